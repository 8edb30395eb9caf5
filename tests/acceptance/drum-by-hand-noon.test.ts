// By hand, by the float alone: water is changed each noon, and the fill after it takes longer than any other. A drum that
// shares no code with the path; written down before the first run.
import { describe, expect, it } from "vitest";
import { beginMs, createLineBench } from "./line-bench.ts";

const line = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
drums:
  mix: { volume: 200 L, fed_by: supply, control: manual, greatest_flow: 4 L/min, stop: { channel: drums/stop, wet: true, trips_at: 180 L, releases_at: 160 L } }
`;
const dayS = 86_400;
const periodS = 30;
const hours: readonly number[] = [6, 7, 8, 9, 10, 12, 15, 17, 19];
/** A bucket is missed, and somebody fills: 8 min. At noon 20 min. */
const usualMin = 8;
const noonMin = 20;

/** After `fillMin` its float trips; null: it hangs dry. Tells by day and hour of its begin how long into a fill it was told as long. */
function live(toS: number, fillMin: (day: number, hour: number) => number | null) {
  const bench = createLineBench(line);
  const begins: { day: number; hour: number; atS: number }[] = [];
  let tripsS = 0;
  for (let atS = 0; atS < toS; atS += periodS) {
    const day = Math.floor(atS / dayS);
    const hour = (atS % dayS) / 3600;
    if (hours.includes(hour)) {
      bench.act({ type: "fill-started", drum: "mix" }, atS);
      begins.push({ day, hour, atS });
      tripsS = atS + 60 * (fillMin(day, hour) ?? Number.POSITIVE_INFINITY);
    }
    // It stays up until much is drawn, 20 min before the next fill.
    const isDrawn = hours.includes(hour + 1 / 3);
    if (isDrawn) tripsS = Number.POSITIVE_INFINITY;
    bench.node("drums", [{ n: "stop", vb: atS >= tripsS }], atS + 1);
  }
  return bench.alarms().flatMap(({ alarm, why, atMs }) => {
    if (alarm.condition !== "fill-long" || (why !== "raised" && why !== "re-raised")) return [];
    const raisedS = (atMs - beginMs) / 1000;
    const { day, hour, atS } = begins.findLast((one) => one.atS <= raisedS) ?? { day: -1, hour: -1, atS: 0 };
    return [{ day, hour, afterMin: (raisedS - atS) / 60 }];
  });
}

const usual = (_day: number, hour: number) => (hour === 12 ? noonMin : usualMin);

describe("by hand, by the float alone, water is changed each noon", () => {
  it("the long fill is told on the first day, and no more", () => {
    expect(live(4 * dayS, usual)).toEqual([
      { day: 0, hour: 12, afterMin: expect.closeTo(1.2 * usualMin + 1, 0) },
    ]);
  });

  it.each([
    ["noon, past 1.2 times what noons take", 2, 12, noonMin],
    ["eight, past 1.2 times the usual", 1, 8, usualMin],
  ])("a float that hangs dry is told at %s", (_when, on, at, most) => {
    const hangs = (day: number, hour: number) => (day === on && hour === at ? null : usual(day, hour));
    const [, told] = live(on * dayS + (at + 1) * 3600, hangs);
    expect(told).toMatchObject({ day: on, hour: at });
    expect(told?.afterMin).toBeGreaterThan(1.2 * most);
    expect(told?.afterMin).toBeLessThan(1.2 * most + 2);
  });
});
