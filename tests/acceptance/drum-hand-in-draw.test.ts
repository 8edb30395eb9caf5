// Who fills by hand says so in the middle of a draw: the level falls on, and shows only minutes after it what has come in
// meanwhile. That is one fill from its first litre on; where nobody has opened the tap, none of any length.
import { describe, expect, it } from "vitest";
import type { Life } from "./outside-life.ts";
import { act, at, drawn, draws, epochMs, kits, released, usual, usualS } from "./outside-plans.ts";

const byHand = kits.level.replace("fed_by: after-resin,", "fed_by: after-resin, control: manual,");
const begins = act({ type: "fill-started", drum: "tub" });
const valve =
  (isShut: boolean) =>
  ({ tub }: Life) =>
    Object.assign(tub, { isShut });
/** Of every draw in the usual hours somebody fills up again. */
const filled = (atS: number) => [
  at(atS + 120, begins),
  at(atS + 122, valve(false)),
  at(atS + 1200, valve(true)),
];
const before = [
  at(0, valve(true)),
  at(0, (life) => {
    life.levelNoise = 0.25;
  }),
  released(),
  ...draws(22),
  ...Array.from({ length: 6 }, (_, n) => filled(600 + n * 1500)).flat(),
];
const pressedS = 60;
/** So much is drawn at once; a minute on somebody presses and opens the tap, or forgets to. Read each 15 s, 0.25 L of noise. */
function lived(draw: Drawn, seed: number, isOpened = true) {
  let wasL = 0;
  const { fills, house } = usual(
    byHand,
    4,
    [
      at(0, drawn(draw.litres, draw.perMin)),
      at(0, (life) => {
        wasL = life.tub.cameIn;
        life.house.flowPerMin = draw.flow;
      }),
      at(pressedS, begins),
      ...(isOpened ? [at(pressedS + 1, valve(false))] : []),
    ],
    before,
    { everyS: 15, seed },
  );
  return { told: fills.slice(6), cameL: (house.tubs.tub?.cameIn ?? 0) - wasL };
}
interface Drawn {
  readonly litres: number;
  readonly perMin: number;
  readonly flow: number;
}
const bucket = { litres: 25, perMin: 22, flow: 0.7 };
const change = { litres: 75, perMin: 9.4, flow: 0.7 };

describe("a hand fill of slow water that begins in a draw", () => {
  it.each([
    ["a large bucket", bucket, 1],
    ["a large bucket, other noise", bucket, 3],
    ["a large bucket, other noise again", bucket, 6],
    ["a change of 8 min", change, 1],
    ["a change of 8 min, other noise", change, 5],
  ] as const)(
    "%s: is one fill, from when it was said to be, and its litres are told",
    (_name, draw, seed) => {
      const { told, cameL } = lived(draw, seed);
      expect(told.map(({ startedAtMs }) => startedAtMs)).toEqual([epochMs(usualS + pressedS)]);
      expect(told[0]?.end).toBe("float-tripped");
      expect(Math.abs((told[0]?.litres ?? 0) / cameL - 1)).toBeLessThan(0.03);
    },
  );
  it("that nobody opened the tap for: brought nothing", () => {
    const { told } = lived(change, 1, false);
    expect(told.map(({ startedAtMs, endedAtMs }) => (endedAtMs ?? 0) - startedAtMs)).toEqual([0]);
    expect(told[0]?.litres).toBeNull();
  });
});
