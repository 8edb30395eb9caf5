import { isFlat } from "./level-repeats.ts";
import type { DrumWays } from "./ways.ts";
import type { Witnesses } from "./witnesses.ts";

/** Flow of the meter that counts this drum's water alone, L/min; null where none tells. */
export function meteredLPerMin(all: Witnesses, { meters }: DrumWays): number | null {
  const own = meters.find(({ key }) => all.state.meters.get(key)?.flowing != null);
  const meter = own && own.sharedWith.length === 0 ? all.state.meters.get(own.key) : undefined;
  return meter?.flowing ? meter.flowLPerMin : null;
}

/** Since when that meter has told that it runs, half a period before its first such reading, epoch ms; null: it doesn't. */
export function meteredSinceMs(all: Witnesses, { meters }: DrumWays): number | null {
  const own = meters.find(({ key }) => all.state.meters.get(key)?.flowing != null);
  const meter = own && all.state.meters.get(own.key);
  return meter?.flowing ? meter.sinceMs - meter.periodMs / 2 : null;
}

/**
 * Since when water may come into a drum: its float asks for it, or a person fills it. Null: neither, or a contact tells that
 * its valve is shut.
 */
function callsSinceMs(all: Witnesses, { drum, stop }: DrumWays): number | null {
  const float = stop ? all.state.floats.get(stop.id) : undefined;
  if (drum.control === "automatic")
    return float?.heard && float.wet === false ? sinceOpenMs(all, drum.id, float.sinceMs) : null;
  const person = all.state.persons.get(drum.id);
  return person?.flowing ? sinceOpenMs(all, drum.id, person.sinceMs) : null;
}

/** Since when it is called for, and whether a person said so. */
export const callOf = (all: Witnesses, ways: DrumWays) => ({
  callsSinceMs: callsSinceMs(all, ways),
  isSaid: ways.drum.control === "manual",
});

/** Since when a contact tells that a drum's valve stands open; null: it is shut, or nothing tells. */
export function openSinceMs(all: Witnesses, drum: string): number | null {
  const inlet = all.state.inlets.get(drum);
  return inlet?.open === true ? inlet.sinceMs : null;
}

/** From when on water can have come of what asks for it since `sinceMs`: a clock opens the valve later. Null: it is shut. */
function sinceOpenMs(all: Witnesses, drum: string, sinceMs: number): number | null {
  const inlet = all.state.inlets.get(drum);
  if (!inlet || inlet.open === null) return sinceMs;
  return inlet.open ? Math.max(sinceMs, inlet.sinceMs) : null;
}

/** Water is to come, by its float, its meter or a person, and no contact says that its valve is shut. */
function isWaterDue(all: Witnesses, ways: DrumWays): boolean {
  if (all.state.inlets.get(ways.drum.id)?.open === false) return false;
  return callsSinceMs(all, ways) !== null || (meteredLPerMin(all, ways) ?? 0) > 0;
}

/** A level whose noise has gone while water is to come tells nothing any more, until it moves. */
export function doubtLevel(all: Witnesses, ways: DrumWays): void {
  const level = all.state.levels.get(ways.drum.id);
  if (!level?.repeats || level.repeats.isFrozen || !isFlat(level) || !isWaterDue(all, ways)) return;
  level.repeats.isFrozen = true;
  all.changed.add(`level ${ways.drum.id}`);
}
