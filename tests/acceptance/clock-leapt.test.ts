// The machine was off in the middle of a fill, and its clock is ahead when it comes back; its node went on meanwhile, and counts the
// time since its own start. Written down before the mend: what comes then is of now, and nobody is called.
import { expect, it } from "vitest";
import { beginMs, createLineBench } from "./line-bench.ts";

const hourS = 3600;

/** 6 min of water at 2.5 L/min, a leap, and 8 min of water so long after the start; the node says how long it has been up. */
function leapt(leapS: number, silentS: number) {
  const bench = createLineBench();
  let seq = 0;
  const water = (fromS: number, toS: number, aheadS: number, flowLPerMin: number) => {
    for (let atS = fromS; atS < toS; atS += 5) {
      seq += 1;
      bench.node(
        "press",
        [
          { boot: 3, seq, up: atS - aheadS + 1000, n: "ec-1", u: "S/m", v: 0.04 },
          { n: "t-1", u: "Cel", v: 25 },
          { n: "t-2", u: "Cel", v: 25 },
          { n: "ec-2", u: "S/m", v: 0.00005 },
          { n: "flow-1", u: "m3/s", v: flowLPerMin / 60_000 },
        ],
        atS,
      );
    }
  };
  water(0, 360, 0, 2.5);
  bench.restart(360 + leapS, true);
  for (let waitS = 0; waitS < silentS; waitS += 5) bench.tick(360 + leapS + waitS);
  const backS = 360 + leapS + silentS;
  water(backS, backS + 480, leapS, 2.5);
  water(backS + 480, backS + 900, leapS, 0);
  return { bench, backS };
}

it.each([
  ["three hours", 3 * hourS, 30],
  ["three hours", 3 * hourS, 180],
  ["two days", 48 * hourS, 180],
  ["a year", 365 * 24 * hourS, 30],
  ["a year", 365 * 24 * hourS, 180],
])(
  "ahead by %s: what comes is of now, no fill is longer than it was, and none is called long",
  (_, leapS, silentS) => {
    const { bench, backS } = leapt(leapS, silentS);
    const called = bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.key] : []));
    expect(called).toEqual([]);
    const dates = bench.outcomes.flatMap((one) =>
      one.kind === "measurement" && one.quantity === "flow" ? [(one.tMs - beginMs) / 1000] : [],
    );
    expect(dates.length).toBeGreaterThan(240);
    expect(dates.filter((atS) => atS > 360 && atS < backS - 10)).toEqual([]);
    const fills = new Map(
      bench.outcomes.flatMap((one) => (one.kind === "fill" ? [[one.id, one] as const] : [])),
    );
    const minutes = [...fills.values()].map(
      ({ startedAtMs, endedAtMs }) => ((endedAtMs ?? Number.NaN) - startedAtMs) / 60_000,
    );
    expect(minutes).toHaveLength(2);
    expect(Math.max(...minutes)).toBeLessThan(9);
  },
);
