import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { noteDisagreement } from "../guard/follow-guard.ts";
import { seldomMs } from "../guard/stop-rules.ts";
import { spanOf } from "./call.ts";
import type { DrumRecord, Unsettled } from "./drum-record.ts";
import { factsOf } from "./facts.ts";
import type { OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** Meter and level may differ by so much before they contradict each other. */
const apartShare = 0.15;
const apartL = 5;
/** A level needs a while to stand; one that does not by then can't be compared. */
const settleMs = 2 * 60_000;
const settlePeriods = 10;
const givenUpMs = 15 * 60_000;
const enoughShare = 0.8;
/** Of its volume: a level that stands there is at the brim, and shows nothing of what ran over. */
const brimShare = 0.985;
const timesKept = 6;

/** Remembers a fill whose litres the level must still bear out. */
export function awaitLevel(record: DrumRecord, open: OpenFill, fill: Fill): void {
  record.unsettled =
    open.basis === "flow-meter" && open.levelStartL !== null && fill.litres !== null && !open.estimated
      ? { fill, meterL: fill.litres, levelStartL: open.levelStartL }
      : null;
}

/** Whether meter and level counted the same water, once the level stands after the fill; null: not known yet, or never. */
function bornOut(
  { fill, meterL, levelStartL }: Unsettled,
  said: DrumWitnesses,
  volumeL: number,
): boolean | null {
  const { level } = said;
  const sinceMs = said.atMs - (fill.endedAtMs ?? said.atMs);
  if (level?.flowing !== false || level.stillL === null || level.periodMs > seldomMs) return null;
  if (level.litres !== null && level.litres >= brimShare * volumeL) return null;
  if (sinceMs < Math.max(settleMs, settlePeriods * level.periodMs)) return null;
  const apart = Math.abs(meterL - (level.stillL - levelStartL));
  const most = Math.max(meterL, level.stillL - levelStartL);
  return !(apart > Math.max(apartL, level.noticeableL) && apart > apartShare * most);
}

/** Goes on with the comparison of the last metered fill with its level. */
export function settleFill(of: Following): void {
  const { record, said } = of;
  const { unsettled } = record;
  if (!unsettled) return;
  const told = bornOut(unsettled, said, of.place.drum.volumeL);
  const isLate = said.atMs - (unsettled.fill.endedAtMs ?? 0) > givenUpMs;
  if (told === null && !isLate && record.open === null) return;
  record.unsettled = null;
  if (told === null) return;
  const roseL = (said.level?.stillL ?? 0) - unsettled.levelStartL;
  if (unsettled.meterL > 0)
    record.levelTimes = [...(record.levelTimes ?? []), roseL / unsettled.meterL].slice(-timesKept);
  if (told) record.guard.disagrees = null;
  else {
    noteDisagreement(record.guard, factsOf(of), "litres-apart");
    // A level that rose by less may have been drawn from slowly; one that rose by more shows water that was not counted.
    if (roseL > unsettled.meterL) of.tell({ ...unsettled.fill, flowUnknown: true });
  }
}

/** A fill whose trip its own meter bore out, where no level can: the witnesses agree again. */
export function agreeByTrip(
  record: DrumRecord,
  said: DrumWitnesses,
  open: OpenFill,
  litres: number | null,
): void {
  if (said.level && (said.level.flowing !== null || said.level.isFrozen)) return;
  if (open.levelFell) return;
  const span = spanOf(said);
  if (open.flowUnknown || open.basis !== "flow-meter" || litres === null) return;
  if (span === null || litres >= enoughShare * span) record.guard.disagrees = null;
}
