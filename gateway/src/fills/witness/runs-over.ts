import { isAstray, type LevelTrace, levelNow } from "./level-trace.ts";
import type { DrumWays } from "./ways.ts";
import type { WitnessState } from "./witness-state.ts";

/** Of its volume: a level that stands there is at the brim. */
const brimShare = 0.985;

/** At its brim no water makes a level rise any more: what comes runs over. */
export function isAtBrim(level: LevelTrace, volumeL: number): boolean {
  const litres = levelNow(level);
  return litres !== null && litres >= brimShare * volumeL;
}

/** Since when a drum is as full as it can be, by its overflow float or a level that stands at the edge; null: it is not. */
function fullSinceMs(state: WitnessState, { drum, overflow }: DrumWays): number | null {
  const level = state.levels.get(drum.id);
  const isTold = level?.heard === true && !isAstray(level) && level.says !== null;
  if (isTold && level.says === "flowing") return null;
  const over = overflow && state.floats.get(overflow.id);
  if (over?.heard && over.wet === true) return over.sinceMs;
  return isTold && isAtBrim(level, drum.volumeL) ? level.sinceMs : null;
}

/**
 * A drum that shares its meter runs over: the meter ran before it was full and has not stood since, and its valve has not shut
 * (its float still calls, or had tripped before). Neither its level nor its float can show that water any more.
 */
export function runsOver(state: WitnessState, ways: DrumWays): boolean {
  if (ways.sharedWith.length === 0) return false;
  const sinceMs = fullSinceMs(state, ways);
  if (sinceMs === null) return false;
  const meter = ways.meters.map(({ key }) => state.meters.get(key)).find((one) => one?.flowing != null);
  if (!meter?.flowing || meter.sinceMs >= sinceMs) return false;
  const stop = ways.stop && state.floats.get(ways.stop.id);
  return !stop?.heard || stop.wet !== true || stop.sinceMs < sinceMs;
}
