// A water change that is faster than a level may move from one reading to the next, against water whose litres are known: some
// readings of it look like a leap, some like a fall, and it is one draw. Written down before the first run.
import { describe, expect, it } from "vitest";
import { takeLevel } from "../../../gateway/src/fills/witness/level.ts";
import { newLevelTrace } from "../../../gateway/src/fills/witness/level-trace.ts";
import { createRandom } from "../../../gateway/src/simulator/index.ts";
import { place as usual } from "./level-place.ts";

const place = { ...usual, greatestFlowLPerMin: 0.6 };
const seeds = [1, 2, 3, 4, 5, 6, 7, 8];

/** 190 L, from half an hour on drawn until `toS` at so many L/min, read each `everyS` with 0.25 L of noise; nothing comes in. */
function changed(
  {
    toS,
    lPerMin,
    breaksAtS = Number.POSITIVE_INFINITY,
  }: { toS: number; lPerMin: number; breaksAtS?: number },
  seed: number,
  everyS: number,
) {
  const random = createRandom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const phaseS = Math.floor(everyS * random());
  const trace = newLevelTrace();
  let litres = 190;
  for (let atS = 0; atS < toS + 180; atS += 1) {
    if (atS >= 1800 && atS < toS) litres -= lPerMin / 60;
    const saysL = (atS < breaksAtS ? litres : 90) + 0.25 * normal();
    if ((atS + phaseS) % everyS === 0) takeLevel(trace, place, atS * 1000, saysL);
  }
  return trace;
}

describe("a change of 80 L at 10 L/min is one draw", () => {
  it.each([15, 10, 5])("read each %i s, within 2 %%", (everyS) => {
    for (const seed of seeds)
      expect(
        Math.abs(changed({ toS: 2280, lPerMin: 10 }, seed, everyS).drawnL / 80 - 1),
        `seed ${seed}`,
      ).toBeLessThan(0.02);
  });
  it("a probe that drops to another value within it is lost, and no draw", () => {
    for (const seed of seeds) {
      const trace = changed({ toS: 2280, lPerMin: 4, breaksAtS: 2100 }, seed, 15);
      expect(trace.lost, `seed ${seed}`).not.toBeNull();
      expect(trace.drawnL, `seed ${seed}`).toBeLessThan(41);
    }
  });
});
