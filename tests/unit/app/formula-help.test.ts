import { spawnSync } from "node:child_process";
import { computeCommand } from "@drumlin/gateway/app";
import { unitText } from "@drumlin/gateway/quantities";
import { formulas, shapesOf } from "@drumlin/gateway/water";
import { afterEach, describe, expect, it, vi } from "vitest";

const helpOf = (id: string) => computeCommand.helpOf?.([id, "--help"]) ?? "";
const exampleOf = (id: string) => {
  const lines = helpOf(id).split("\n");
  const [command = "", ...gives] = lines.slice(lines.indexOf("Example") + 1).map((line) => line.trim());
  return { command, gives };
};

/** Each command as the shell takes it apart. */
function argumentsOf(commands: readonly string[]): string[][] {
  const script = commands
    .map((command) => `set -- ${command}; printf '%s\\0' "$@"; printf '\\001'`)
    .join("\n");
  const { stdout } = spawnSync("sh", ["-c", script], { encoding: "utf8" });
  return stdout
    .split("\u0001")
    .slice(0, -1)
    .map((line) => line.split("\0").slice(0, -1));
}

async function printed(run: () => Promise<number>) {
  const said: string[] = [];
  const say = (text: string) => void said.push(text);
  vi.spyOn(console, "log").mockImplementation(say);
  vi.spyOn(console, "error").mockImplementation(say);
  return { code: await run(), said };
}

afterEach(() => vi.restoreAllMocks());

describe("the help of a formula", () => {
  const calls = argumentsOf(formulas.map(({ id }) => exampleOf(id).command));
  it.each(formulas.map(({ id }, place) => [id, place] as const))(
    "%s: its example, typed as it stands there, gives what stands below it",
    async (id, place) => {
      const [program, command, ...args] = calls[place] ?? [];
      expect([program, command, args[0]]).toEqual(["drumlin", "compute", id]);
      const { code, said } = await printed(() => computeCommand.run(args));
      expect({ code, said }).toEqual({ code: 0, said: exampleOf(id).gives });
    },
  );
  it.each(formulas.map((formula) => [formula.id, formula] as const))(
    "%s: every input has its words, its unit and whether it can be left out",
    (id, formula) => {
      const help = helpOf(id);
      for (const [name, shape] of shapesOf(formula.inputs)) {
        const at = help.indexOf(`\n  ${name} `);
        expect(at, name).toBeGreaterThan(0);
        const text = help.slice(at, at + 1500);
        expect(shape.description.length, name).toBeGreaterThan(1);
        expect(text, name).toContain(shape.description);
        expect(text).toContain(unitText(shape.unit ?? "1"));
        if (!shape.needed) expect(text).toContain("(optional");
        if (shape.otherwise !== undefined) expect(text).toContain(`else ${shape.otherwise})`);
        if (shape.kind === "list") expect(text).toMatch(/list of \d+/);
      }
      for (const [name, shape] of shapesOf(formula.outputs))
        expect(shape.description.length, name).toBeGreaterThan(1);
      for (const line of help.split("\n")) expect(line).not.toMatch(/undefined|\[object|NaN|Infinity/);
    },
  );
});

describe("arguments of compute", () => {
  it("an input that is given twice is refused: neither wins", async () => {
    const run = computeCommand.run(["natural-25", "kappa=300", "temperature=10", "kappa=400"]);
    await expect(run).rejects.toThrow("kappa is given twice; give it once.");
    const find = computeCommand.run(["--find", "TDS", "--find", "EBCT"]);
    await expect(find).rejects.toThrow("--find is given twice; give it once.");
  });
  it("a number that can be read in two ways keeps its explanation", async () => {
    const { code, said } = await printed(() =>
      computeCommand.run(["natural-25", "kappa=1,413", "temperature=10"]),
    );
    expect(code).toBe(1);
    expect(said).toEqual([
      'input-not-understood: kappa: "1,413" can be read in two ways: write 1413 or 1.413.',
    ]);
  });
});
