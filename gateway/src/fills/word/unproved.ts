import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import type { Inflow } from "../record/best-witness.ts";
import { pourUnseen } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { mostL } from "./most-come.ts";
import { spanL, type TripKnown } from "./trip-known.ts";

/** A meter is seen to count no later than so long after its drum has called, and so many periods of its node. */
const countsWithinMs = 60_000;
const countsWithinPeriods = 3;

/** Since when a drum asks for water: its float, or a person who fills it; null: it does not, epoch ms. */
function callsSinceMs({ control }: Drum, { stop, person }: DrumWitnesses): number | null {
  if (control === "automatic") return stop?.heard && stop.wet === false ? stop.sinceMs : null;
  return person?.flowing ? person.sinceMs : null;
}

/**
 * One meter at 0 is all that says that nothing comes: no level, no second meter and no shut valve says so too. A level that
 * rises says the contrary, and has yet to be believed against it.
 */
function isMeterAlone({ meters, level, inlet }: DrumWitnesses, { flowing, basis }: Inflow): boolean {
  if (flowing !== false || basis !== "flow-meter") return false;
  if (level?.flowing === false || inlet?.flowing === false) return false;
  return meters.filter((one) => one.flowing === false).length === 1;
}

function graceMs({ meters, stop }: DrumWitnesses): number {
  const periodMs = Math.max(stop?.periodMs ?? 0, ...meters.map((one) => one.periodMs));
  return Math.max(countsWithinMs, countsWithinPeriods * periodMs);
}

/**
 * Goes on with a call to which nothing comes, by its meter. Once that counts, it is proved not to be stuck. Where
 * the call ends without that (a trip shows that water came) and no fill was told of it, what can have been bad stays unseen.
 */
export function followUnproved(
  word: DrumWord,
  known: TripKnown,
  { inflow, isBad }: { readonly inflow: Inflow; readonly isBad: boolean },
): void {
  const { said, drum } = known;
  const was = word.unproved ?? null;
  const isSilent = inflow.flowing === null || said.stop?.heard === false;
  // What tells of a time before has no say in which water stands there now; nor has a silence.
  if (said.lateMs !== undefined || isSilent) {
    if (was) word.unproved = { ...was, lastMs: Math.max(was.lastMs, said.atMs), isBad: false };
    return;
  }
  const callMs = callsSinceMs(drum, said);
  if (callMs !== null && isMeterAlone(said, inflow)) {
    const isNew = was === null || was.sinceMs < Math.max(callMs, word.answeredMs);
    const sinceMs = Math.max(callMs, word.answeredMs, ...said.meters.map((one) => one.sinceMs));
    const { lastMs, badMs, ...begun } = isNew ? { sinceMs, lastMs: sinceMs, badMs: 0, isBad } : was;
    const ms = begun.isBad ? Math.max(0, said.atMs - lastMs) : 0;
    word.unproved = { ...begun, lastMs: Math.max(lastMs, said.atMs), badMs: badMs + ms, isBad };
    return;
  }
  const litres = callMs === null ? unprovedL(word, known) : 0;
  word.unproved = null;
  if (litres > 0) word.book = pourUnseen(word.book, Math.min(litres, spanL(known) ?? litres), 0);
}

/** A fill was told of which nobody counted the litres: what the call may have brought is booked with it. */
export function noteUncounted(word: DrumWord, { flowUnknown, endedAtMs }: Fill): void {
  if (flowUnknown && word.unproved && (endedAtMs ?? 0) > word.unproved.sinceMs) word.unproved = null;
}

/** Up to so much bad water may have come in while a meter alone said that none did, litres; 0: none, or too short a call. */
export function unprovedL({ unproved }: DrumWord, known: TripKnown): number {
  if (!unproved || unproved.lastMs - unproved.sinceMs < graceMs(known.said)) return 0;
  return unproved.badMs > 0 ? mostL(known, unproved.badMs) : 0;
}
