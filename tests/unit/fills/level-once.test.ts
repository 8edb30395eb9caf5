// Water that came in is one rise, also where noise lifts the level just when it has ended: whatever the level says of the time
// after is inflow that nobody saw, and a fill that never was. Against water whose litres are known, written down before the first run.
import { describe, expect, it } from "vitest";
import { takeLevel } from "../../../gateway/src/fills/witness/level.ts";
import { newLevelTrace } from "../../../gateway/src/fills/witness/level-trace.ts";
import { createRandom } from "../../../gateway/src/simulator/index.ts";
import { place } from "./level-place.ts";

const fromS = 2400;

interface Water {
  readonly lPerMin: number;
  readonly forS: number;
  readonly noiseL: number;
}

/** A level read each 15 s; so long after the water it is over. How often it began to rise, and what it says at last. */
function risesOf({ lPerMin, forS, noiseL }: Water, seed: number) {
  const random = createRandom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const trace = newLevelTrace();
  const phaseS = Math.floor(15 * random());
  let [litres, begun] = [150, 0];
  for (let atS = 0; atS < fromS + forS + 600; atS += 1) {
    if (atS >= fromS && atS < fromS + forS) litres += lPerMin / 60;
    if (atS % 15 !== phaseS) continue;
    const wasFlowing = trace.says === "flowing";
    takeLevel(trace, place, atS * 1000, litres + noiseL * normal());
    if (trace.says === "flowing" && !wasFlowing) begun += 1;
  }
  return { begun, says: trace.says };
}

describe("water that came in is one rise, and over 10 min after it", () => {
  it.each([
    ["4 L in half a minute, 0.25 L of noise", { lPerMin: 8, forS: 30, noiseL: 0.25 }, 1],
    ["8 L in half a minute, 0.5 L of noise", { lPerMin: 16, forS: 30, noiseL: 0.5 }, 1],
    ["4 L in a minute, 0.5 L of noise", { lPerMin: 4, forS: 60, noiseL: 0.5 }, 1],
    ["a fill of 40 L, 0.5 L of noise", { lPerMin: 4, forS: 600, noiseL: 0.5 }, 851],
  ])("%s", (_, water, firstSeed) => {
    for (let seed = firstSeed; seed < firstSeed + 200; seed += 1)
      expect(risesOf(water, seed), `seed ${seed}`).toEqual({ begun: 1, says: "still" });
  });
});
