// A contact tells whether the valve before a drum stands open, and nothing else tells of its water: a clock's valve before
// a float that shuts by itself, or one that the float drives. Models written by hand; each expectation before the first run.
import type { Fill } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { ended, go, kappa } from "./drums-bench.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

const line = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: { channel: drums/stop, trips_at: 180 L, releases_at: 160 L }, inlet: { channel: drums/inlet } }
`;

interface Valve {
  readonly isOpen: (atS: number, wet: boolean) => boolean;
  /** The float shuts the water behind the valve. */
  readonly floatShuts: boolean;
  readonly bucketEveryS: number;
  readonly toS: number;
}

/** 4 L/min, float 160 / 180 L, a bucket of 7 L now and then; packs each 15 s. */
function lived({ isOpen, floatShuts, bucketEveryS, toS }: Valve) {
  const bench = createLineBench(line);
  let litres = 170;
  let wet = true;
  let overAtS: number | null = null;
  const truth: { startS: number; endS: number | null }[] = [];
  for (let atS = 0; atS < toS; atS += 1) {
    if (atS % bucketEveryS === bucketEveryS - 1) litres -= 7;
    if (litres >= 180) wet = true;
    else if (litres <= 160) wet = false;
    const open = isOpen(atS, wet);
    const runs = open && !(floatShuts && wet);
    const last = truth.at(-1);
    if (runs && last?.endS !== null) truth.push({ startS: atS, endS: null });
    else if (!runs && last && last.endS === null) last.endS = atS;
    if (runs) litres += 4 / 60;
    if (litres > 200) overAtS ??= atS;
    const contacts = { stop: wet, inlet: open };
    if (atS % 15 === 8)
      go(
        bench,
        atS,
        atS + 1,
        () => ({ "ec-2": kappa(0.2) }),
        () => contacts,
      );
  }
  const calls = bench
    .alarms()
    .flatMap(({ annunciated, alarm, atMs }) =>
      annunciated ? [{ what: alarm.condition, atS: (atMs - beginMs) / 1000 }] : [],
    );
  return { fills: ended(bench), truth, calls, overAtS };
}

const seconds = ({ startedAtMs, endedAtMs }: Fill) =>
  [startedAtMs, endedAtMs as number].map((ms) => (ms - beginMs) / 1000) as [number, number];
const halfAnHourOfTwo = (atS: number) => atS % 7200 < 1800;

describe("a clock's valve before a float that shuts", () => {
  const { fills, truth, calls } = lived({
    isOpen: halfAnHourOfTwo,
    floatShuts: true,
    bucketEveryS: 2400,
    toS: 2 * 86_400,
  });
  it("is no fill while the float is up", () => {
    for (const fill of fills) {
      const [startS, endS] = seconds(fill);
      const ran = truth.filter((one) => one.startS < endS && (one.endS ?? endS) > startS);
      expect(ran.length).toBeGreaterThan(0);
    }
  });
  it("has a fill from where the float turned dry to its trip, to a reading or two", () => {
    const whole = truth.filter(({ endS }) => endS !== null && endS % 7200 !== 1800);
    expect(whole.length).toBeGreaterThan(5);
    for (const { endS } of whole)
      expect(fills.some((fill) => Math.abs(seconds(fill)[1] - (endS as number)) <= 31)).toBe(true);
  });
  it("proves no stop: nothing but the float has told that the water ended", () => {
    const tripped = fills.filter(({ end }) => end === "float-tripped");
    expect(tripped.length).toBeGreaterThan(5);
    expect(tripped.filter(({ tripConfirmed }) => tripConfirmed === true)).toEqual([]);
    expect(fills.filter(({ litres }) => litres !== null)).toEqual([]);
  });
  it("calls nobody", () => expect(calls).toEqual([]));
});

describe("a valve that its float drives", () => {
  const sticksS = 8 * 3600;
  const driven = (sticks: boolean) => (atS: number, wet: boolean) => (sticks && atS > sticksS) || !wet;
  it("shuts at the trip, and that proves the stop", () => {
    const { fills, calls } = lived({
      isOpen: driven(false),
      floatShuts: false,
      bucketEveryS: 600,
      toS: sticksS,
    });
    expect(fills.length).toBeGreaterThan(5);
    for (const { tripConfirmed } of fills) expect(tripConfirmed).toBe(true);
    expect(calls).toEqual([]);
  });
  it("and does not shut any more: told by the time that it stands open, though its float is up", () => {
    const { calls, overAtS } = lived({
      isOpen: driven(true),
      floatShuts: false,
      bucketEveryS: 600,
      toS: sticksS + 3600,
    });
    const told = calls.find(({ what }) => what === "fill-long");
    // Fills of 5 to 8 min; 1.5 times that and a minute; it may have begun just before. The brim comes after 5 to 10 min.
    expect(told?.atS).toBeLessThan(sticksS + 16 * 60);
    expect(told?.atS).toBeLessThan((overAtS ?? 0) + 11 * 60);
  });
});
