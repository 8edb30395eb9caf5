// A drum that the line file moves behind other carbon, or leaves out while that fails, by a loft that counts its true milligrams.
// What is expected was written down before the first run.
import { expect, it } from "vitest";
import { beginMs } from "./line-bench.ts";
import { chlorine, type Deed, draw, kits, lines, story, T, tested } from "./loft-house.ts";

const drums = { a: {}, b: {} };
const without = kits.two.replace(/ {2}b: .*\n/, "");
/** Both drums behind their carbon; `apart`: b behind another one. */
const joined = kits.two.replace(
  "drums:",
  "  other: { kind: carbon, from: supply, to: clear }\n  polish: { kind: resin, from: clear, to: polished }\ndrums:",
);
const apart = joined.replace("b: { volume: 200 L, fed_by: cleaned", "b: { volume: 200 L, fed_by: clear");
const lets =
  (mgPerL: number): Deed[1] =>
  (loft) => {
    loft.chlorine = mgPerL;
  };
const fills: Deed[] = [
  [1300, tested(1, "b")],
  [1500, draw(22, "b")],
];

it("it had passed, and is left out of the line while its carbon fails: what fills it then came through that", () => {
  const loft = story(
    kits.two,
    4500,
    [
      [10, chlorine(0.02)],
      [60, lines(without)],
      [600, lets(0.5)],
      [610, chlorine(0.5)],
      [1200, lines(kits.two)],
      ...fills,
    ],
    { drums },
  );
  expect((loft.drums.b?.chlorine ?? 0) / (loft.drums.b?.litres ?? 1)).toBeGreaterThan(0.05);
  expect(loft.word.b).toBe("hold");
  expect(loft.words.at(-1)).toContain("0.5 mg/L of chlorine");
});
it("… and its carbon passed again before it came back: nothing is held against it", () => {
  const loft = story(
    kits.two,
    4500,
    [
      [10, chlorine(0.02)],
      [60, lines(without)],
      [610, chlorine(0.5)],
      [900, chlorine(0.02)],
      [1200, lines(kits.two)],
      ...fills,
    ],
    { drums },
  );
  expect(loft.word.b).toBe("use");
});
it("it had passed behind other carbon, and is led behind the one that failed", () => {
  const loft = story(
    apart,
    4500,
    [
      [10, chlorine(0.02, ["point", "clear"])],
      [20, lets(0.5)],
      [30, chlorine(0.5)],
      [1200, lines(joined)],
      ...fills,
    ],
    { drums },
  );
  expect(loft.word.b).toBe("hold");
  expect(loft.words.at(-1)).toContain("0.5 mg/L of chlorine");
});
it("it stays where it was and the line is renamed: what failed for the other drum alone is not held against it", () => {
  const branches = kits.two
    .replace("drums:", "  polish: { kind: resin, from: dechlorinated, to: clear }\ndrums:")
    .replace("b: { volume: 200 L, fed_by: cleaned", "b: { volume: 200 L, fed_by: clear");
  const loft = story(
    branches,
    4500,
    [
      [10, chlorine(0.5, ["point", "cleaned"])],
      [30, chlorine(0.02, ["point", "clear"])],
      [1200, lines(branches.replace("a: { volume", "a: { title: Bay, volume"))],
      ...fills,
    ],
    { drums },
  );
  const told = (drum: string) => loft.words.filter((word) => word.includes(` ${drum} `)).join();
  expect(told("a")).toContain("chlorine");
  expect(told("b")).not.toContain("chlorine");
});
it.each([
  ["the worse one last", [0, 0.5]],
  ["the worse one first", [0.5, 0]],
])("of two tests of one time the worse counts, %s", (_, [first, second]) => {
  const at = { validFromMs: beginMs + (T + 900) * 1000 };
  const deeds: Deed[] = [
    [60, draw(22)],
    [1000, chlorine(first as number, undefined, at)],
    [1060, chlorine(second as number, undefined, at)],
    [1100, tested(1)],
    [1200, draw(22)],
  ];
  expect(story(kits.meter, 2500, deeds).word.d).toBe("hold");
});
