import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { FillEnd } from "../fill.ts";
import type { StopFailed } from "../guard/guard.ts";
import { reasonNames } from "../guard/guard.ts";
import { rescale } from "./account.ts";
import type { Ending, OpenFill } from "./open-fill.ts";

/** Beside both periods, a trip and the end of inflow may lie so far apart. */
const tripSlackMs = 3000;

/** Noise hides of slow water for no longer than this when it stops; what is hidden for longer nobody saw. */
const longestHiddenMs = 120_000;

/** A valve that closes slowly is shut so long after the trip, ms: what comes meanwhile is half of what came before, or little more. */
const slowestCloseMs = 120_000;
const fadingShare = 0.65;
/** A level does not see the last of it, so when it ended is known too badly: no more than a valve brings that closes for 90 s, ms of flow. */
const fadingMs = 45_000;

/** A fill's own flow, L/min: after a change of pressure or of a filter the greatest one tells of another water. */
function flowOf({ litres, startedAtMs, stoppedAtMs, bookedMs }: OpenFill): number {
  const ranMs = (stoppedAtMs ?? bookedMs) - startedAtMs;
  return ranMs <= 0 ? 0 : (litres.came * 60_000) / ranMs;
}

/** How far apart a trip and the end of inflow may be seen, ms: both nodes' periods, and what noise hides of a level. */
function slackMs(open: OpenFill, said: DrumWitnesses): number {
  const stop = said.stop?.periodMs ?? 0;
  if (open.basis === "level" && said.level) {
    const { sigmaL, stepL, periodMs } = said.level;
    const hiddenMs = ((3 * sigmaL + stepL) / Math.max(0.1, flowOf(open))) * 60_000;
    return stop + periodMs + tripSlackMs + Math.min(longestHiddenMs, hiddenMs);
  }
  const meter = said.meters.find(({ key }) => key === open.meter?.key);
  return stop + (meter?.periodMs ?? stop) + tripSlackMs;
}

/**
 * Slow water is seen to rest long after it does: where a level has risen by no more than its noise since the float
 * tripped, the float knows better when inflow ended.
 */
function restedAtTrip(open: OpenFill, { level }: DrumWitnesses, endedAtMs: number): boolean {
  const { trippedAtMs, litresAtTrip, basis, litres } = open;
  if (basis !== "level" || !level || trippedAtMs === null || litresAtTrip === null) return false;
  return endedAtMs > trippedAtMs && Math.abs(litres.came - litresAtTrip) <= level.noticeableL;
}

/** The valve closed slowly: from the trip on less and less came, as litres that were counted show, until nothing did. */
function fadedOut(
  { basis, litres, litresAtTrip, trippedAtMs, startedAtMs }: OpenFill,
  endedAtMs: number,
): boolean {
  if (basis !== "flow-meter" && basis !== "level") return false;
  if (trippedAtMs === null || litresAtTrip === null || trippedAtMs <= startedAtMs) return false;
  const closedMs = endedAtMs - trippedAtMs;
  if (closedMs <= 0 || closedMs > slowestCloseMs) return false;
  const usualPerMs = litresAtTrip / (trippedAtMs - startedAtMs);
  const mostMs = basis === "level" ? fadingMs : fadingShare * closedMs;
  return litres.came - litresAtTrip <= usualPerMs * mostMs;
}

/** How a fill ended, and whether the end of inflow and the trip belong together. */
export function endingOf(open: OpenFill, said: DrumWitnesses, failed: StopFailed | null): Ending {
  const seenMs = open.stoppedAtMs ?? open.silentSinceMs ?? open.bookedMs;
  const tripped = open.trippedAtMs;
  const endedAtMs = tripped !== null && !failed && restedAtTrip(open, said, seenMs) ? tripped : seenMs;
  const end: FillEnd = failed
    ? "not-stopping"
    : tripped !== null
      ? "float-tripped"
      : open.byPerson
        ? "stopped-by-person"
        : "inflow-stopped";
  // A valve that stands open still has told of no end: its float alone has.
  const byFloat = open.basis === "inlet" && said.inlet?.flowing === true;
  const byItself = open.basis === "calling-float" || open.basis === "person" || byFloat;
  const tripConfirmed =
    tripped === null || byItself
      ? null
      : !failed &&
        !open.tripInSilence &&
        (Math.abs(endedAtMs - tripped) <= slackMs(open, said) || fadedOut(open, endedAtMs));
  return { end, endedAtMs, tripConfirmed, notStopping: failed ? reasonNames[failed.reason] : null };
}

/** Brings the litres to what the level shows now that it stands. */
export function rescaleToLevel(open: OpenFill, said: DrumWitnesses): void {
  const { level } = said;
  if (open.basis !== "level" || open.levelStartL === null || level?.stillL == null) return;
  // A level that fell silent on its way stands nowhere: what was counted is all there is.
  if (level.flowing !== false || level.sinceMs < open.startedAtMs) return;
  rescale(open.litres, Math.max(0, level.stillL - open.levelStartL));
}
