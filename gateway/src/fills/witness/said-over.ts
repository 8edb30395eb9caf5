import type { FloatTrace } from "./float-trace.ts";
import type { LevelTrace } from "./level-trace.ts";
import type { Witnesses } from "./witnesses.ts";

function end(all: Witnesses, drum: string, sinceMs: number): void {
  all.state.persons.set(drum, { ...all.state.persons.get(drum), flowing: false, sinceMs });
  all.changed.add(`person ${drum}`);
}

/** What a person said that they fill is over when the stop float trips. */
export function endSaidByTrip(all: Witnesses, drum: string, { wet, sinceMs }: FloatTrace): void {
  const word = all.state.persons.get(drum);
  if (wet && word?.flowing && sinceMs >= word.sinceMs) end(all, drum, sinceMs);
}

/** Two splashes change a float over and back twice. */
const splashEdges = 4;
/** What water does to a float that it has reached comes within so long: splashes lie farther apart. */
const withinMs = 2 * 60_000;
/** A level may read so much of a drum lower than the float's release, and the float be reached. */
const underShare = 0.04;

/** Water has come up to it since: it read wet twice within 2 min, or its node counted more than splashes. */
function wasReached({ wetReadings, rawEdges }: FloatTrace, sinceMs: number): boolean {
  const [first, second] = wetReadings.filter((tMs) => tMs > sinceMs);
  if (first !== undefined && second !== undefined && second - first <= withinMs) return true;
  return rawEdges.filter((tMs) => tMs > sinceMs).length > splashEdges;
}

/**
 * … or when the level, having risen since, has come to rest, and the float was reached meanwhile: one that chatters at its
 * trip is not wet twice running, and tells of none. No water reaches one that hangs higher than the level stands: it was
 * splashed, and the level may be stuck. `releaseL`: where it releases, litres; null: not known.
 */
export function endSaidBySight(
  all: Witnesses,
  drum: string,
  { says, sinceMs, repeats, lastL }: LevelTrace,
  {
    stop,
    releaseL,
    volumeL,
  }: { readonly stop: FloatTrace | undefined; readonly releaseL: number | null; readonly volumeL: number },
): void {
  const word = all.state.persons.get(drum);
  if (!word?.flowing || says !== "still" || sinceMs <= word.sinceMs || repeats?.isFrozen) return;
  if (releaseL !== null && (lastL ?? 0) < releaseL - underShare * volumeL) return;
  if (stop && wasReached(stop, word.sinceMs)) end(all, drum, sinceMs);
}
