// A level as witness of inflow, against water whose litres are known; each expectation was written down before the first run.
import { describe, expect, it } from "vitest";
import { takeLevel } from "../../../gateway/src/fills/witness/level.ts";
import { inflowLevel, levelNow, newLevelTrace } from "../../../gateway/src/fills/witness/level-trace.ts";
import { createRandom } from "../../../gateway/src/simulator/index.ts";
import { place } from "./level-place.ts";

interface Water {
  readonly toS: number;
  readonly everyS?: number;
  readonly noiseL?: number;
  readonly waveL?: number;
  /** Inflow and draw, L/min, at a second. */
  readonly inflow?: (atS: number) => number;
  readonly drawn?: (atS: number) => number;
  readonly calls?: (atS: number) => boolean;
}

/** Lives through the water second by second; what the level counted as inflow, and what came in. */
function live({ toS, everyS = 5, noiseL = 0, waveL = 0, inflow, drawn, calls }: Water) {
  const random = createRandom(3);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const trace = newLevelTrace();
  let [litres, cameL, drawnL] = [160, 0, 0];
  let callsSinceMs: number | null = null;
  const says = new Set<string>();
  let firstL: number | null = null;
  let [begun, was] = [0, trace.says];
  for (let atS = 0; atS < toS; atS += 1) {
    const [inL, outL] = [(inflow?.(atS) ?? 0) / 60, (drawn?.(atS) ?? 0) / 60];
    litres += inL - outL;
    cameL += inL;
    drawnL += outL;
    callsSinceMs = calls?.(atS) ? (callsSinceMs ?? atS * 1000) : null;
    if (atS % everyS !== 0) continue;
    const wave = waveL * Math.sin((2 * Math.PI * atS) / 7);
    takeLevel(trace, { ...place, callsSinceMs }, atS * 1000, litres + noiseL * normal() + wave);
    firstL ??= inflowLevel(trace);
    if (trace.says) says.add(trace.says);
    if (trace.says === "flowing" && was !== "flowing") begun += 1;
    was = trace.says;
  }
  const counted = (inflowLevel(trace) ?? 0) - (firstL ?? 0);
  return { counted, cameL, drawnL, trace, litres, begun, says: [...says].sort(), now: levelNow(trace) };
}

describe("a level counts inflow alone", () => {
  it("a fill of 40 L at 4 L/min with 0.25 L of noise, within 3 %", () => {
    const { counted, cameL } = live({
      toS: 1800,
      noiseL: 0.25,
      inflow: (atS) => (atS >= 600 && atS < 1200 ? 4 : 0),
    });
    expect(Math.abs(counted - cameL)).toBeLessThan(0.03 * cameL);
  });
  it("a bucket of 8 L at standstill is drawn and no inflow", () => {
    const { counted, trace } = live({
      toS: 1200,
      noiseL: 0.25,
      drawn: (atS) => (atS >= 600 && atS < 610 ? 48 : 0),
    });
    expect(Math.abs(counted)).toBeLessThan(0.6);
    expect(Math.abs(trace.drawnL - 8)).toBeLessThan(0.6);
  });
  it("20 L drawn while it calls and fills: what came in meanwhile is counted", () => {
    const { counted, cameL } = live({
      toS: 1800,
      noiseL: 0.25,
      inflow: (atS) => (atS >= 600 && atS < 1200 ? 4 : 0),
      drawn: (atS) => (atS >= 600 && atS < 720 ? 10 : 0),
      calls: (atS) => atS >= 600 && atS < 1200,
    });
    expect(Math.abs(counted - cameL)).toBeLessThan(0.05 * cameL);
  });
  it("0.5 L of noise for 4 h says nothing but still, and counts less than 1 L", () => {
    const { counted, says } = live({ toS: 4 * 3600, noiseL: 0.5 });
    expect(says).toEqual(["still"]);
    expect(Math.abs(counted)).toBeLessThan(1);
  });
  it.each([0.3, 0.5])("%f L/min for an hour is one rise, and over within 25 min of its end", (flow) => {
    const rises = (toS: number) =>
      live({
        toS,
        everyS: 15,
        noiseL: 0.25,
        inflow: (atS) => (atS >= 3600 && atS < 7200 ? flow : 0),
      });
    const [during, after] = [rises(7200), rises(7200 + 25 * 60)];
    expect([during.begun, during.trace.says]).toEqual([1, "flowing"]);
    expect([after.begun, after.trace.says]).toEqual([1, "still"]);
    expect(Math.abs(after.counted - after.cameL)).toBeLessThan(0.6);
  });
  it.each([135, 150, 180, 240])(
    "three buckets %i s apart, each read half-way, are no noise: the fill after them is seen within 3.5 min",
    (gapS) => {
      const lastS = 3640 + 2 * gapS;
      const begins = [lastS - 2 * gapS, lastS - gapS, lastS];
      const fills = (atS: number) => atS >= lastS + 120;
      const { says, trace } = live({
        toS: lastS + 120 + 210,
        everyS: 15,
        noiseL: 0.25,
        drawn: (atS) => (begins.some((beginS) => atS >= beginS && atS < beginS + 10) ? 42 : 0),
        inflow: (atS) => (fills(atS) ? 4 : 0),
      });
      expect(says).toEqual(["flowing", "still"]);
      expect(trace.says).toBe("flowing");
    },
  );
  it.each([5, 15])("waves of 3 L, read each %i s, say nothing but still and draw nothing", (everyS) => {
    const { says, trace } = live({ toS: 2 * 3600, noiseL: 0.25, waveL: 3, everyS });
    expect(says).toEqual(["still"]);
    expect(trace.drawnL).toBe(0);
  });
});
