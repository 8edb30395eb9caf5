// A drum that a person fills by hand, of whose water only that person tells: the tap is open before they say so. Written down before
// the first run.
import { describe, expect, it } from "vitest";
import type { Life } from "./outside-life.ts";
import {
  act,
  at,
  type Does,
  drawn,
  kits,
  released,
  saidUseOver,
  usual,
  usualS,
  words,
} from "./outside-plans.ts";

type Events = Parameters<typeof usual>[2];
const manual = kits.float.replace("fed_by: after-resin,", "fed_by: after-resin, control: manual,");
const tap =
  (isOpen: boolean): Does =>
  ({ tub }) => {
    tub.isShut = !isOpen;
  };
const comes =
  (good: number): Does =>
  ({ house }: Life) => {
    house.good = good;
  };
const says = act({ type: "fill-started", drum: "tub" });
/** 22 L are drawn, and filled again by somebody who says so first. */
const announced = (fromS: number): Events => [
  at(fromS, drawn(22)),
  at(fromS + 120, says),
  at(fromS + 121, tap(true)),
  at(fromS + 600, tap(false)),
];
const lived = (events: Events, line = manual) =>
  usual(line, 1.5, events, [
    at(0, tap(false)),
    released(),
    ...[0, 1, 2, 3, 4, 5].flatMap((fill) => announced(600 + fill * 1500)),
  ]);

describe("a fill that is announced after its tap was opened", () => {
  const late = (more: Events) =>
    lived([at(0, drawn(40)), at(121, tap(true)), at(300, says), at(900, tap(false)), ...more]);

  it.each([
    ["up to the moment", 300],
    ["up to a minute before", 240],
  ])("water of 400 uS/cm ran in %s: nobody knows whether it may be used", (_says, goodS) => {
    const told = late([at(100, comes(400)), at(goodS, comes(0.2))]);
    expect(told.samples.at(-1)?.blend.tub).toBeGreaterThan(15);
    expect(words(told, "tub", usualS + 310)).toEqual(["unknown"]);
  });
  it.each([
    ["good water ran", []],
    [
      "what stood at the probe had gone to 20 uS/cm, as it does",
      [at(0, ({ house }: Life) => Object.assign(house, { first: 20 }))],
    ],
  ] as [string, Events][])("%s: it may be used all the time", (_says, events) => {
    expect(words(late(events), "tub", usualS)).toEqual(["use"]);
  });
  it("a person tests the drum, and later fills leave its word alone", () => {
    const tested = act({ type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 4 });
    const told = late([
      at(100, comes(400)),
      at(300, comes(0.2)),
      at(1200, ({ tub }) => Object.assign(tub, { dose: 4 * tub.litres })),
      at(1201, tested),
      ...announced(2000),
    ]);
    expect(words(told, "tub", usualS + 310)).toEqual(["unknown", "use"]);
    expect(saidUseOver(told, 11)).toBeLessThan(200);
  });
});

it("water of 400 uS/cm that was seen half an hour before somebody fills is none of it", () => {
  const told = lived([at(0, comes(400)), at(200, comes(0.2)), ...announced(2000)]);
  expect(words(told, "tub", usualS)).toEqual(["use"]);
});

it("water of 400 uS/cm was let out before the tap was opened, and a level shows that nothing came then: it may be used", () => {
  const told = lived(
    [at(0, comes(400)), at(100, comes(0.2)), ...announced(0)],
    kits.level.replace("fed_by: after-resin,", "fed_by: after-resin, control: manual,"),
  );
  expect(words(told, "tub", usualS)).toEqual(["use"]);
});
