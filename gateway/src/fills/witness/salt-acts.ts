import type { Act } from "../../acts/index.ts";
import type { Drum } from "../../line/index.ts";
import { actsOf, type Records } from "../../path/index.ts";
import { saltBatch } from "../../water/index.ts";
import { saltIsOver, saltWentIn, weighedAnew } from "./level-salt.ts";
import { levelNow } from "./level-trace.ts";
import { levelOf } from "./witness-state.ts";
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

/**
 * What people said of batches, where the logbook alone knows it. How much had dissolved it does not say: all of it may rise yet,
 * unless water has come since, by a fill (`endedMs`: when the last one of each drum ended).
 */
export function seedSalt(all: Witnesses, records: Records, endedMs: ReadonlyMap<string, number>): void {
  for (const { atMs, act } of actsOf(records, ["batch", "release", "release-undo"])) {
    if (all.ways.get(act.drum)?.drum.level?.as !== "pressure") continue;
    levelOf(all.state, act.drum);
    takeSalt(all, act, atMs);
  }
  for (const [drum, trace] of all.state.levels)
    if (trace.salt && (endedMs.get(drum) ?? 0) > trace.salt.sinceMs) saltIsOver(trace);
}
