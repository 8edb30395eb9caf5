// A bucket too small to show over a level's noise makes the float call: what comes in then is counted from where the level lay
// after it. Against water whose litres are known, written down before the first run.
import { describe, expect, it } from "vitest";
import { takeLevel } from "../../../gateway/src/fills/witness/level.ts";
import { inflowLevel, newLevelTrace } from "../../../gateway/src/fills/witness/level-trace.ts";
import { createRandom } from "../../../gateway/src/simulator/index.ts";
import { place } from "./level-place.ts";

const callS = 3600;
const seeds = Array.from({ length: 40 }, (_, index) => index + 1);

interface Call {
  readonly noiseL: number;
  readonly flowLPerMin: number;
  readonly dipL: number;
  /** The supply is shut for so long after the call. */
  readonly shutS: number;
  /** A meter of its own counts beside it. */
  readonly isMetered?: boolean;
}

/** Stands at 162 L, is drawn from in 10 s, calls and fills by 20 L; read each 15 s. What was counted of what came in and was drawn. */
function countedOf({ noiseL, flowLPerMin, dipL, shutS, isMetered = false }: Call, seed: number) {
  const random = createRandom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const trace = newLevelTrace();
  const phaseS = Math.floor(15 * random());
  const [fromS, forS] = [callS + shutS, Math.round((20 * 60) / flowLPerMin)];
  let litres = 162;
  let stoodL = 0;
  for (let atS = 0; atS < fromS + forS + 900; atS += 1) {
    if (atS >= callS - 10 && atS < callS) litres -= dipL / 10;
    if (atS >= fromS && atS < fromS + forS) litres += flowLPerMin / 60;
    if (atS === callS - 60) stoodL = inflowLevel(trace) ?? 0;
    if (atS % 15 !== phaseS) continue;
    const calls = atS >= callS && atS < fromS + forS;
    // Its float is read in the same pack: at the first reading after.
    const callsSinceMs = calls ? (callS + ((phaseS - (callS % 15) + 15) % 15)) * 1000 : null;
    const runs = atS >= fromS && atS < fromS + forS;
    const metered = isMetered && {
      meteredLPerMin: runs ? flowLPerMin : 0,
      meteredSinceMs: runs ? fromS * 1000 : null,
    };
    takeLevel(trace, { ...place, ...metered, callsSinceMs }, atS * 1000, litres + noiseL * normal());
  }
  return { cameL: (inflowLevel(trace) ?? 0) - stoodL, drawnL: trace.drawnL };
}

const median = (values: readonly number[]) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;
/** In the middle of all, and nine in ten, L. */
function offOf(call: Call) {
  const came = seeds.map((seed) => countedOf(call, seed).cameL - 20);
  const off = came.map(Math.abs).sort((a, b) => a - b);
  return { middleL: median(came), mostL: off[Math.floor(0.9 * off.length)] ?? 0 };
}

describe("20 L that come in after a bucket that the noise hides", () => {
  it.each([
    [0.5, 4, 3],
    [0.25, 4, 1.8],
    [0.25, 0.5, 1.8],
  ])("noise of %f L, %f L/min, %f L drawn: within 1 L in the middle, 2 L nine times in ten", (...call) => {
    const [noiseL, flowLPerMin, dipL] = call;
    const { middleL, mostL } = offOf({ noiseL, flowLPerMin, dipL, shutS: 0 });
    expect(Math.abs(middleL)).toBeLessThan(1);
    expect(mostL).toBeLessThan(2);
  });
  it.each([
    [0.5, 4, 3],
    [0.25, 4, 3.5],
    [0.25, 4, 1.8],
  ])("beside a meter as well: noise of %f L, %f L/min, %f L drawn", (noiseL, flowLPerMin, dipL) => {
    const { middleL, mostL } = offOf({ noiseL, flowLPerMin, dipL, shutS: 0, isMetered: true });
    expect(Math.abs(middleL)).toBeLessThan(1);
    expect(mostL).toBeLessThan(2);
  });
  it.each([false, true])(
    "a supply that is shut for 5 min, and nothing drawn: no draw is made up; a meter: %s",
    (isMetered) => {
      for (const seed of seeds)
        expect(
          countedOf({ noiseL: 0.25, flowLPerMin: 4, dipL: 0.3, shutS: 300, isMetered }, seed).drawnL,
          `seed ${seed}`,
        ).toBeLessThan(0.6);
    },
  );
});
