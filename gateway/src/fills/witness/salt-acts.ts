import type { Act } from "../../acts/index.ts";
import type { Drum } from "../../line/index.ts";
import { saltBatch } from "../../water/index.ts";
import { saltIsOver, saltWentIn, weighedAnew } from "./level-salt.ts";
import { levelNow } from "./level-trace.ts";
import type { Witnesses } from "./witnesses.ts";

/** Of salt water of which nobody said how salt it is to be: sea water. */
const usualSalinity = 35;
/** EOS-80 holds up to this practical salinity. */
const greatestSalinity = 42;

/** Dry salt that so much water of a drum takes for its target, kg. */
function wholeKgOf({ target, volumeL }: Drum, litres: number | null): number {
  const salinity = Math.min(greatestSalinity, target.salinity ?? usualSalinity);
  return saltBatch({ volumeL: Math.max(0.001, litres ?? volumeL), salinity }, 20).saltKg;
}

/** What a person says of a batch, as far as it weighs on a level by pressure. */
export function takeSalt(all: Witnesses, given: Act, nowMs: number): void {
  if (given.type !== "batch" && given.type !== "release" && given.type !== "release-undo") return;
  const drum = all.ways.get(given.drum)?.drum;
  const trace = all.state.levels.get(given.drum);
  if (!trace || drum?.level?.as !== "pressure") return;
  if (given.type !== "batch") {
    if (given.type === "release" && given.reason !== "dumped") return;
    saltIsOver(trace);
    if (given.type === "release-undo") weighedAnew(trace);
  } else if (given.step === "salted") {
    saltWentIn(trace, { kg: given.kg ?? null, wholeKg: wholeKgOf(drum, levelNow(trace)) }, nowMs);
    weighedAnew(trace);
  } else if (given.step !== "mixing") {
    // Mixed, or water is to come: no rise is the salt's any more.
    saltIsOver(trace);
    if (given.step === "ready") weighedAnew(trace);
  }
  all.changed.add(`level ${given.drum}`);
}
