// When a slot may rest, and what ends it: rules that lives alone seldom meet.
import { latestCell } from "@drumlin/gateway/measurements";
import { expect, it } from "vitest";
import { CalmSlots } from "../../../gateway/src/alarms/calm-slots.ts";
import { nothingCounted } from "../../../gateway/src/alarms/tally.ts";

type Parts = Parameters<CalmSlots["letRest"]>;
type Slot = Parts[0];
type Measured = Parameters<CalmSlots["hear"]>[1];

const measured = (value: number, tMs: number, flag = 1) =>
  ({ value, tMs, flag, reasons: [] }) as unknown as Measured;
const judged = (more = {}) =>
  ({ verdict: { tMs: 1000 }, zone: "inside", turn: null, againAtMs: null, ...more }) as unknown as Parts[1];

/** Slots that hear their own series and another, each calm within its band of the own one; all were judged just now. */
function house(bands: readonly object[], tally = {}) {
  const now = new Map(["own", "bare"].map((name) => [name, { measurement: measured(5, 1000) }]));
  const slots = bands.map(
    (band) =>
      ({
        row: {
          hears: () => ["own", "bare"].map((key) => ({ cell: latestCell, key })),
          calmWithin: () => [{ series: "own", ...band }],
        },
        tally: { ...nothingCounted, tMs: 1000, last: { zone: "inside", isGross: false }, ...tally },
        kept: null,
        rest: null,
        askIn: 0,
        heard: [],
      }) as unknown as Slot,
  );
  const calm = new CalmSlots(
    { add: () => {} } as unknown as ConstructorParameters<typeof CalmSlots>[0],
    () => {},
  );
  calm.useSlots(slots);
  const look = {
    board: { get: (_: unknown, name: string) => now.get(name) },
    nowMs: 1000,
  } as unknown as Parts[2];
  const letRest = (more = {}) => {
    for (const slot of slots) calm.letRest(slot, judged(more), look);
    calm.stepOver();
  };
  return { calm, letRest, resting: () => slots.map(({ rest }) => rest !== null) };
}

it("rests within its band; neither while it waits for a turn or a time, nor after a gross value", () => {
  const plain = house([{ low: 1, high: 9 }]);
  plain.letRest();
  expect(plain.resting()).toEqual([true]);
  for (const more of [{ turn: "raise" }, { againAtMs: 5000 }]) {
    const waits = house([{ low: 1, high: 9 }]);
    waits.letRest(more);
    expect(waits.resting()).toEqual([false]);
  }
  const gross = house([{ low: 1, high: 9 }], { last: { zone: "inside", isGross: true } });
  gross.letRest();
  expect(gross.resting()).toEqual([false]);
});

it.each([
  ["one on its limit", "own", measured(9, 2000), 2000, true],
  ["one past it", "own", measured(9.1, 2000), 2000, false],
  ["one that is older than the last", "own", measured(5, 999), 2000, false],
  ["one dated ten seconds ahead", "own", measured(5, 12_000), 2000, true],
  ["one dated farther ahead", "own", measured(5, 12_001), 2000, false],
  ["one just before the band ends", "own", measured(5, 2000), 59_999, true],
  ["one as it ends", "own", measured(5, 2000), 60_000, false],
  ["any value of what has no band", "bare", measured(500, 2000), 2000, true],
  ["what has no band and can't be used", "bare", measured(5, 2000, 4), 2000, false],
  ["what has no band as the other's ends", "bare", measured(5, 2000), 60_000, false],
] as const)("%s: it rests on, or is judged", (_what, name, measurement, nowMs, rests) => {
  const here = house([{ low: 1, high: 9, untilMs: 60_000 }]);
  here.letRest();
  here.calm.hear(name, measurement, nowMs);
  expect(here.resting()).toEqual([rests]);
});
