import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Inflow } from "../record/best-witness.ts";
import { pourUnseen } from "./book.ts";
import type { DrumWord, SeenBefore } from "./drum-word.ts";
import { mostL } from "./most-come.ts";
import type { TripKnown } from "./trip-known.ts";

/** Who fills by hand says so up to so long after the tap was opened (common practice, no source). */
const saidWithinMs = 5 * 60_000;
/** What was seen longer ago than this does not speak of now. */
const longestStepMs = 60_000;

/** Nothing but a person tells whether water comes into it. */
const isByPersonAlone = ({ control, level, inlet }: Drum, { meters }: DrumWitnesses): boolean =>
  control === "manual" && level === null && inlet === null && meters.length === 0;

function seeMore(was: SeenBefore | null, nowMs: number, isBad: boolean): SeenBefore | null {
  const stepMs = was?.wasBad ? Math.min(longestStepMs, Math.max(0, nowMs - was.lastMs)) : 0;
  const lastBadMs = isBad || stepMs > 0 ? nowMs : (was?.lastBadMs ?? 0);
  if (nowMs - lastBadMs > saidWithinMs) return null;
  return { lastMs: nowMs, wasBad: isBad, badMs: (was?.badMs ?? 0) + stepMs, lastBadMs };
}

/**
 * The tap is open before a person says so. What ran for sure is only what comes from then on; but where water far over its limit
 * was seen in the minutes before, it may have run as well: as much as can have come in that time was seen by nobody.
 */
export function followSaidLate(
  word: DrumWord,
  known: TripKnown,
  { inflow, isBad }: { readonly inflow: Inflow; readonly isBad: boolean },
): void {
  const { drum, said } = known;
  const was = word.seenBefore ?? null;
  if (!isByPersonAlone(drum, said)) return;
  if (inflow.flowing !== true) {
    word.seenBefore = seeMore(was, said.atMs, isBad);
    return;
  }
  word.seenBefore = null;
  if (was === null || inflow.basis !== "person" || inflow.sinceMs - was.lastBadMs > saidWithinMs) return;
  const ms = Math.min(saidWithinMs, was.badMs + (was.wasBad ? inflow.sinceMs - was.lastMs : 0));
  if (ms > 0) word.book = pourUnseen(word.book, mostL(known, ms), 0);
}
