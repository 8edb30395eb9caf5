// Water that a drum gets by another way than its blend is counted for, by a loft that counts its true salts. What is expected was
// written down before the first run.
import { createPipeline } from "@drumlin/gateway/app";
import { waterCell } from "@drumlin/gateway/fills";
import { expect, it } from "vitest";
import { comes, type Deed, draw, kits, lines, story, tested } from "./loft-house.ts";

const fromSupply = kits.meter.replace("fed_by: cleaned", "fed_by: supply");
const ledThereAndBack: readonly Deed[] = [
  [50, comes(400)],
  [55, lines(fromSupply)],
  [60, draw(22)],
  [1000, lines(kits.meter)],
  [1000, comes(0.3)],
];

it("the line leads it to the supply for a fill of litres that nothing counts there, and back: it is no water to use", () => {
  const loft = story(kits.meter, 3000, ledThereAndBack);
  expect((loft.drums.d?.salts ?? 0) / (loft.drums.d?.litres ?? 1)).toBeGreaterThan(40);
  expect(loft.word.d).toBe("unknown");
});
it("… and it was answered for since: it may be used", () => {
  const deeds: Deed[] = [...ledThereAndBack, [1100, tested(1)]];
  expect(story(kits.meter, 3000, deeds).word.d).toBe("use");
});
it("… the supply was as good as its band: nothing is held against it", () => {
  const deeds: Deed[] = [
    [55, lines(fromSupply)],
    [60, draw(22)],
    [1000, lines(kits.meter)],
  ];
  expect(
    story(kits.meter, 3000, deeds, { set: (loft) => void Object.assign(loft, { feed: 8 }) }).word.d,
  ).toBe("use");
});
it("two drums fed in turn, each with what stood in the pipe first: all of it is in their blends", () => {
  const turns = (drum: string, fromS: number): Deed[] =>
    Array.from({ length: 5 }, (_, turn) => [fromS + 1440 * turn, draw(22, drum)]);
  const deeds: Deed[] = [
    [50, (loft) => void Object.assign(loft, { after: (_L: number, runL: number) => (runL < 2 ? 300 : 0.3) })],
    ...turns("a", 60),
    ...turns("b", 780),
  ];
  const loft = story(kits.two, 8000, deeds, { drums: { a: {}, b: {} } });
  expect(loft.word).toEqual({ a: "hold", b: "hold" });
  // Till the next reading, at most.
  expect(loft.poisonedS.a).toBeLessThan(60);
  expect(loft.poisonedS.b).toBeLessThan(60);
});
const unseen: Deed[] = [
  [
    55,
    (loft) =>
      void Object.assign(loft, { says: (all: { n?: string }[]) => all.filter(({ n }) => n !== "ec-2") }),
  ],
  [60, draw(22)],
  [61, comes(400)],
  [210, (loft) => void Object.assign(loft, { says: (all: object[]) => all })],
  [205, comes(0.3)],
];
it.each([
  ["its litres are counted", kits.meter],
  ["… and nothing tells what the supply is like", kits.meter.replace("conductivity: pipe/ec-1, ", "")],
  ["a float alone tells of it", kits.float],
])(
  "the probe is lost from before a fill until well into it: what stood there before speaks for none of it; %s",
  (_kit, line) => {
    const loft = story(line, 3000, unseen);
    expect((loft.drums.d?.salts ?? 0) / (loft.drums.d?.litres ?? 1)).toBeGreaterThan(11);
    expect(loft.word.d).toBe("unknown");
  },
);
it("a hand test over its band may be signed for, and the trace keeps that it lay over it", () => {
  const loft = story(kits.meter, 1500, [
    [50, comes(100)],
    [60, draw(22)],
    [1000, tested(40)],
  ]);
  expect(loft.word.d).toBe("use");
  const pipeline = createPipeline();
  pipeline.restore(loft.bench.saved());
  expect(pipeline.board.get(waterCell, "d")?.release).toMatchObject({ value25: 40, over25: 10 });
});
const back = (atS: number): Deed[] => [
  [atS, lines(kits.meter)],
  [atS, comes(0.3)],
];
const toSupply = (atS: number): Deed[] => [
  [atS, comes(400)],
  [atS, lines(fromSupply)],
];
it.each([
  ["led back", [...toSupply(50), [60, draw(22)], ...back(300)]],
  ["led to the supply", [[60, draw(22)], ...toSupply(200), ...back(1000)]],
] satisfies [string, Deed[]][])(
  "it is %s while a fill runs: what came at the place where that is not seen is no water to use",
  (_way, deeds) => {
    const loft = story(kits.meter, 3000, deeds);
    expect((loft.drums.d?.salts ?? 0) / (loft.drums.d?.litres ?? 1)).toBeGreaterThan(11);
    expect(loft.word.d).toBe("unknown");
    expect(story(kits.meter, 3000, [...deeds, [1100, tested(1)], [1500, draw(22)]]).word.d).toBe("use");
  },
);
it("… and back while nothing runs: nothing is held against it", () => {
  const deeds: Deed[] = [
    [55, lines(fromSupply)],
    [600, lines(kits.meter)],
    [700, draw(22)],
  ];
  expect(story(kits.meter, 3000, deeds).word.d).toBe("use");
});
