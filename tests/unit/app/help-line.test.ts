import { readFileSync } from "node:fs";
import { main } from "@drumlin/gateway/app";
import { lineReference } from "@drumlin/gateway/line";
import { afterEach, describe, expect, it, vi } from "vitest";

async function help(...words: string[]) {
  const said: string[] = [];
  const say = (text: string) => void said.push(text);
  vi.spyOn(console, "log").mockImplementation(say);
  vi.spyOn(console, "error").mockImplementation(say);
  return { code: await main(["help", ...words]), text: said.join("\n") };
}
afterEach(() => vi.restoreAllMocks());

const sections = lineReference();
const keys = sections.flatMap((section) => section.keys);
/** What stands under one key, up to the next. */
const under = (text: string, path: string) => text.split(`\n  ${path}: `)[1]?.split(/\n {2}\S/)[0] ?? "";

describe("drumlin help line", () => {
  it("lists every key: what it takes, what it is, its unit, what holds without it, an example", async () => {
    const { code, text } = await help("line");
    expect(code).toBe(0);
    for (const { title } of sections) expect(text).toMatch(new RegExp(`^${title}$`, "m"));
    const missing = keys.filter((key) => {
      const own = under(text, key.path);
      const told = [key.takes, key.what, key.example, key.unit ?? "", key.otherwise ?? ""];
      return !told.every((part) => own.includes(part)) || own.includes("(needed") !== key.isNeeded;
    });
    expect(missing.map(({ path }) => path)).toEqual([]);
  });

  // What was asked for and stood nowhere.
  it.each([
    ["points.*.flow", /litres a pulse|meter/i],
    ["drums.*.level", /level/i],
    ["drums.*.floats.overflow", /overflow|over/i],
    ["floors", /floor/i],
    ["channel.wet", /true.*wet|wet.*true/is],
    ["points.*.limit", /uS\/cm|µS\/cm/],
    ["points.*.title", /name|called/i],
    ["foreign.[].unit", /unit/i],
  ])("%s is explained", async (path, words) => {
    const { text } = await help("line");
    expect(under(text, path)).toMatch(words);
  });

  it("with a word: only keys that have to do with it, and says so where none has", async () => {
    const { code, text } = await help("line", "FLOAT");
    expect(code).toBe(0);
    const shown = keys.filter(({ path }) => text.includes(`\n  ${path}: `));
    expect(shown.length).toBeGreaterThan(4);
    expect(shown.length).toBeLessThan(keys.length / 2);
    for (const { path, what } of shown) expect(`${path} ${what}`).toMatch(/float/i);
    expect(await help("line", "zebra")).toEqual({
      code: 1,
      text: 'No key of the line file has to do with "zebra". drumlin help line lists them all.',
    });
  });

  it("is named where somebody looks for it: in the overview, and in the README with words that find something", async () => {
    expect((await help()).text).toContain("drumlin help line [WORD]");
    const readme = readFileSync(new URL("../../../README.md", import.meta.url), "utf8");
    const named = [...readme.matchAll(/drumlin help line ?(\w*)`/g)].map(([, word]) => word ?? "");
    expect(named).toContain("");
    for (const word of named.filter(Boolean)) expect((await help("line", word)).code).toBe(0);
    expect((await help("nothing")).code).toBe(2);
  });
});
