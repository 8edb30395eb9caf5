import { computeCommand } from "@drumlin/gateway/app";
import { afterEach, describe, expect, it, vi } from "vitest";

async function printed(args: readonly string[]) {
  const said: string[] = [];
  const say = (text: string) => void said.push(text);
  vi.spyOn(console, "log").mockImplementation(say);
  vi.spyOn(console, "error").mockImplementation(say);
  return { code: await computeCommand.run(args), said: said.join("\n") };
}

afterEach(() => vi.restoreAllMocks());

describe("finding a formula by a word of the trade", () => {
  it.each([
    ["TDS", "total dissolved solids", "solids-by-factor"],
    ["ebct", "empty-bed contact time", "contact-time"],
    ["TAN", "total ammonia nitrogen", "ammonia-unionised-fresh"],
    ["TCF", "temperature correction factor", "membrane-temperature"],
    ["ppt", "parts per thousand", "salinity-of-conductivity"],
    ["specific conductance", "conductivity at 25 °C", "natural-25"],
    ["CMC", "criterion maximum concentration", "ammonia-criteria-fresh"],
    ["CCC", "criterion continuous concentration", "chlorine-criteria"],
  ])("--find %s says what it means and which formulas there are", async (word, meaning, id) => {
    const { code, said } = await printed(["--find", word]);
    expect(code).toBe(0);
    expect(said.split("\n")[0]).toContain(meaning);
    expect(said).toMatch(new RegExp(`^${id} `, "m"));
    expect(computeCommand.helpOf?.([word, "--help"])).toBe(said);
  });
  it("the help of a formula says by which words it is found", () => {
    expect(computeCommand.helpOf?.(["contact-time", "--help"])).toContain("EBCT (empty-bed contact time)");
  });
  it("a word typed as a formula leads on; a word that leads nowhere says so", async () => {
    await expect(printed(["EBCT"])).rejects.toThrow(/EBCT: empty-bed contact time\ncontact-time/);
    expect(await printed(["--find", "furlong"])).toMatchObject({
      code: 1,
      said: expect.stringContaining("lists them all"),
    });
  });
});
