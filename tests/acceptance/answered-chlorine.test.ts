// Chlorine that passes the carbon, and people who test and answer, by a loft of its own: no probe sees chlorine, so its true milligrams
// are counted here. What is expected was written down before the first run.
import type { Records } from "@drumlin/gateway/path";
import { expect, it } from "vitest";
import { beginMs } from "./line-bench.ts";
import {
  chlorine,
  type Deed,
  draw,
  kits,
  type Loft,
  lines,
  looks,
  said,
  story,
  T,
  tested,
} from "./loft-house.ts";

const bad: Deed[] = [
  [
    0,
    (loft) => {
      loft.chlorine = 0.5;
    },
  ],
  [10, chlorine(0.5)],
];
const chlorineIn = ({ drums: { d } }: Loft) => (d?.chlorine ?? 0) / (d?.litres ?? 1);
const treated: Deed[1] = ({ drums: { d } }) => {
  if (d) d.chlorine = 0;
};
const inDrum = (value: number, more: object = {}) => chlorine(value, ["drum", "d"], more);
const passes = inDrum(0.05, { below: true });

it("a drum is drained, its valve opens by itself, and “dumped” is said while it fills: all that runs on came through the same carbon", () => {
  const loft = story(kits.meter, 6000, [...bad, [60, draw(176)], [900, said("dumped")]]);
  expect(chlorineIn(loft)).toBeGreaterThan(0.3);
  expect(loft.word.d).toBe("hold");
  expect(loft.poisonedS.d).toBe(0);
});
it("it is answered for in mid-fill, and 15 L more come through that carbon", () => {
  const seen = {};
  const loft = story(kits.meter, 2000, [
    ...bad,
    [60, draw(40)],
    [400, tested(1)],
    [405, looks(seen, "answered")],
  ]);
  expect(seen).toEqual({ answered: "use" });
  expect(loft.word.d).toBe("hold");
});
it.each([435, 445, 455, 480])("it is answered for as its fill ends (%i s): nothing came since", (atS) => {
  expect(story(kits.meter, 2400, [...bad, [60, draw(22)], [atS, tested(1)]]).word.d).toBe("use");
});
it.each<[string, Deed[]]>([
  ["it was treated", []],
  ["it had failed itself before", [[1000, inDrum(0.3)]]],
])(
  "the drum itself passes, since %s, and is answered for: the next fill comes through the carbon that failed",
  (_why, more) => {
    const seen = {};
    const loft = story(kits.meter, 3500, [
      ...bad,
      [60, draw(22)],
      ...more,
      [1500, treated],
      [1600, passes],
      [1700, tested(1)],
      [1710, looks(seen, "answered")],
      [1800, draw(22)],
    ]);
    expect(seen).toEqual({ answered: "use" });
    expect(loft.word.d).toBe("hold");
  },
);
it("the drum itself had failed and passes, and nothing was found before it: later fills may be used", () => {
  const before: Deed[] = [[10, inDrum(0.5)]];
  expect(
    story(kits.meter, 3500, [...before, [60, draw(22)], [1600, passes], [1700, tested(1)], [1800, draw(22)]])
      .word.d,
  ).toBe("use");
});
it("the carbon passes again: the next fill may be used", () => {
  const mended: Deed = [1000, (loft) => void Object.assign(loft, { chlorine: 0 })];
  const deeds: Deed[] = [
    ...bad,
    [60, draw(22)],
    mended,
    [1100, chlorine(0.02)],
    [1200, tested(1)],
    [1300, draw(22)],
  ];
  expect(story(kits.meter, 3500, deeds).word.d).toBe("use");
});
it("of two tests of one time the worse counts: a slip is put right by the same sample's true figure", () => {
  const at = { validFromMs: beginMs + (T + 900) * 1000 };
  const deeds: Deed[] = [
    [60, draw(22)],
    [1000, chlorine(0, undefined, at)],
    [1060, chlorine(0.5, undefined, at)],
  ];
  expect(story(kits.meter, 1500, deeds).word.d).toBe("hold");
});
it("an old failure is entered late: a newer test has passed since", () => {
  const old = { validFromMs: beginMs + (T - 4000) * 1000 };
  const deeds: Deed[] = [
    [10, chlorine(0.02)],
    [60, draw(22)],
    [1000, chlorine(0.5, undefined, old)],
    [1100, draw(22)],
  ];
  expect(story(kits.meter, 2500, deeds).word.d).toBe("use");
});
it("the checkpoint is lost, and the gateway begins again with its logbook: carbon that failed has not passed since", () => {
  const begins: Deed[1] = ({ bench, nowS }) => {
    const told = (kind: string) => bench.outcomes.filter((one) => one.kind === kind);
    const records: Records = {
      last: (kind) => (kind === "drum-water" || kind === "line" ? told(kind).slice(-1) : []),
      list: (kind) =>
        kind.startsWith("act ")
          ? told("act-done").filter((one) => "act" in one && one.act.type === kind.slice(4))
          : [],
    };
    bench.beginAgain(nowS, records);
  };
  const loft = story(kits.meter, 5000, [
    ...bad,
    [60, draw(22)],
    [1000, tested(1)],
    [1200, begins],
    [2000, draw(22)],
  ]);
  expect(loft.word.d).toBe("hold");
  expect(loft.words.at(-1)).toContain("0.5 mg/L of chlorine");
});
it("the drum is left out of the line file by a slip and comes back: carbon that failed fails still", () => {
  const without = kits.meter.replace(
    / {2}d: .*\n/,
    "  x: { volume: 50 L, fed_by: supply, control: manual }\n",
  );
  const loft = story(kits.meter, 4000, [
    ...bad,
    [60, draw(22)],
    [1000, lines(without)],
    [1600, lines(kits.meter)],
    [1700, tested(1)],
    [2400, draw(22)],
  ]);
  expect(loft.word.d).toBe("hold");
  expect(loft.words.at(-1)).toContain("0.5 mg/L of chlorine");
});
it("drums of other names stand behind the carbon that failed", () => {
  const loft = story(
    kits.meter,
    3000,
    [...bad, [60, lines(kits.two)], [600, tested(1, "b")], [700, draw(22, "b")]],
    {
      drums: { d: {}, a: {}, b: {} },
    },
  );
  expect(loft.word.b).toBe("hold");
  expect(loft.words.at(-1)).toContain("0.5 mg/L of chlorine");
});
it.each([
  [
    "before the carbon",
    (yaml: string) =>
      yaml.replace("b: { volume: 200 L, fed_by: cleaned", "b: { volume: 200 L, fed_by: supply"),
  ],
  [
    "behind other carbon",
    (yaml: string) =>
      yaml
        .replace("drums:", "  other: { kind: carbon, from: supply, to: clear }\ndrums:")
        .replace("b: { volume: 200 L, fed_by: cleaned", "b: { volume: 200 L, fed_by: clear"),
  ],
])("a drum is added %s: that test tells nothing of it", (_where, of) => {
  const deeds: Deed[] = [...bad, [60, lines(of(kits.two))], [600, tested(1, "b")], [700, draw(22, "b")]];
  const loft = story(kits.meter, 3000, deeds, { drums: { d: {}, a: {}, b: {} } });
  expect(loft.words.filter((word) => word.includes(" b ")).join()).not.toContain("chlorine");
});

it("chlorine is found in the drum itself: the reason says so, and not that it passed the carbon", () => {
  const loft = story(kits.meter, 1000, [[10, inDrum(0.5)]]);
  expect(loft.word.d).toBe("hold");
  expect(loft.words.at(-1)).toContain("0.5 mg/L of chlorine was found in the drum itself");
  expect(loft.words.join()).not.toContain("passed the carbon");
});
