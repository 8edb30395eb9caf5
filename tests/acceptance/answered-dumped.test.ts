// “I dumped it”, said twice, of the wrong drum, or after a test of what is gone, by the loft. What is expected was written down before
// the first run.
import { expect, it } from "vitest";
import {
  comes,
  type Deed,
  draw,
  kits,
  type Loft,
  lived,
  looks,
  said,
  step,
  story,
  tested,
  undone,
} from "./loft-house.ts";

/** 40 L of 60 uS/cm came in: on hold. */
const bad: Deed[] = [
  [0, comes(60)],
  [60, draw(40)],
  [1100, comes(0.3)],
];
const fills = (fromS: number, times: number): Deed[] =>
  Array.from({ length: times }, (_, at) => [fromS + at * 1500, draw(22)]);

it("said twice, 4 s apart, and taken back: on hold as before, whatever good water follows", () => {
  const loft = story(kits.meter, 6000, [
    ...bad,
    [1200, said("dumped")],
    [1204, said("dumped")],
    [1264, undone()],
    ...fills(1400, 3),
  ]);
  expect(loft.answers.slice(1)).toEqual([null, null, null]);
  expect(loft.word.d).toBe("hold");
  expect(loft.words.at(-1)).toContain("over the limit");
});
it("emptied twice indeed, a quarter of an hour apart: it may be used once it is full", () => {
  const twice: Deed[] = [
    [1200, draw(178)],
    [1750, said("dumped")],
    [2650, said("dumped")],
  ];
  const loft = story(kits.meter, 5600, [...bad, ...twice]);
  expect(loft.word.d).toBe("use");
  expect(loft.poisonedS.d).toBe(0);
});
it("said of the wrong drum, whose float hangs wet: what was known against its water still is", () => {
  const seen = {};
  const loft = story(kits.meter, 6000, [
    ...bad,
    [1200, said("dumped")],
    [1210, looks(seen, "said")],
    ...fills(2400, 2),
  ]);
  expect(seen).toEqual({ said: "unknown" });
  expect(loft.word.d).toBe("hold");
  expect(loft.words.at(-1)).toContain("over the limit");
});
it("… and where nothing was, nobody knows what is in it", () => {
  const loft = story(kits.meter, 3600, [[60, draw(22)], [1200, said("dumped")], ...fills(2000, 1)]);
  expect(loft.word.d).toBe("unknown");
});
it("a test of what is gone says nothing of what comes: 40 uS/cm, within its point's limit and over the drum's band", () => {
  const loft = story(kits.limit50, 6000, [
    [0, comes(100)],
    [60, draw(120)],
    [2300, comes(0.3)],
    [2400, tested(60)],
    [2500, comes(40)],
    [2600, draw(176)],
    [3200, said("dumped")],
  ]);
  expect(loft.word.d).toBe("hold");
  expect(loft.words.at(-1)).toContain("the blend is");
});
it.each([1, 2])(
  "a batch of salt that was ready, said to be dumped by a slip (%i times): ready again",
  (times) => {
    const tap =
      (isOpen: boolean) =>
      ({ drums: { d } }: Loft) => {
        if (d) d.tap = isOpen;
      };
    const dissolves = Array.from(
      { length: 60 },
      (_, at): Deed => [
        3300 + at * 20,
        ({ drums: { d } }) => {
          if (d) d.probe = (53.06 * (at + 1)) / 60;
        },
      ],
    );
    const slips = Array.from({ length: times }, (_, at): Deed => [8000 + at * 4, said("dumped")]);
    const drums = { d: { litres: 2, salts: 2, isWet: false, tap: false, probe: 0.001 } };
    const loft = lived(
      kits.salt,
      8600,
      [
        [6, said("dumped")],
        [60, tap(true)],
        [2700, tap(false)],
        [3200, step("salted", { kg: 6.5 })],
        ...dissolves,
        ...slips,
        [8300, undone()],
      ],
      { drums },
    );
    const batch = loft.bench.outcomes.findLast((one) => one.kind === "batch");
    expect([loft.word.d, batch?.kind === "batch" && batch.state]).toEqual(["use", "ready"]);
  },
);
