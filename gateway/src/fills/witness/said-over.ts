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

/** One splash changes a float over and back. */
const splashEdges = 2;

/** Water has come up to it since: it read wet twice, or its node counted more than a splash. */
function wasReached({ wetReadings, rawEdges }: FloatTrace, sinceMs: number): boolean {
  const isWetTwice = wetReadings.filter((tMs) => tMs > sinceMs).length > 1;
  return isWetTwice || rawEdges.filter((tMs) => tMs > sinceMs).length > splashEdges;
}

/**
 * … or when the level, having risen since, has come to rest, and the float was reached meanwhile: one that chatters at its
 * trip is not wet twice running, and tells of none.
 */
export function endSaidBySight(
  all: Witnesses,
  drum: string,
  { says, sinceMs, repeats }: LevelTrace,
  stop: FloatTrace | undefined,
): void {
  const word = all.state.persons.get(drum);
  if (!word?.flowing || says !== "still" || sinceMs <= word.sinceMs || repeats?.isFrozen) return;
  if (stop && wasReached(stop, word.sinceMs)) end(all, drum, sinceMs);
}
