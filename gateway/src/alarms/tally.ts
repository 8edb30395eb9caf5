import type { Verdict } from "./condition.ts";
import { holdStill, nothingPassed, type Passed, passOn, type Step } from "./delays.ts";

/** Longest time that one reading stands for. */
const maxStepMs = 90_000;

/** What was counted of one condition and subject. Plain data. */
export interface Tally {
  readonly on: Passed;
  readonly gross: Passed;
  readonly off: Passed;
  /** How the newest reading was judged. */
  readonly last: { readonly zone: Zone; readonly isGross: boolean };
  readonly tMs: number | null;
  readonly litres: number | null;
  readonly fill: string | null;
}

/** Past its limit; inside it by less than the deadband; well inside; or nobody can tell. */
export type Zone = "past" | "near" | "inside" | "unknown";

/** Nothing was counted yet. */
export const nothingCounted: Tally = {
  on: nothingPassed,
  gross: nothingPassed,
  off: nothingPassed,
  last: { zone: "unknown", isGross: false },
  tMs: null,
  litres: null,
  fill: null,
};

/** Nothing was counted from one to the other. */
export const isSame = (a: Tally, b: Tally): boolean =>
  a.tMs === b.tMs &&
  a.on === b.on &&
  a.gross === b.gross &&
  a.off === b.off &&
  a.last.zone === b.last.zone &&
  a.last.isGross === b.last.isGross &&
  a.litres === b.litres &&
  a.fill === b.fill;

/** Counts anew from the reading after this one. */
export const countedAnew = ({ tMs, litres, fill }: Tally): Tally => ({
  ...nothingCounted,
  tMs,
  litres,
  fill,
});

function stepOf(tally: Tally, verdict: Verdict): Step {
  const { tMs, litres, fill } = verdict;
  const isNew = tMs !== undefined && (tally.tMs === null || tMs > tally.tMs);
  const ms = isNew && tally.tMs !== null ? Math.min(tMs - tally.tMs, maxStepMs) : 0;
  // A count that is less than before has begun anew.
  const more =
    typeof litres !== "number" || tally.litres === null
      ? 0
      : litres >= tally.litres
        ? litres - tally.litres
        : litres;
  return {
    ms,
    readings: isNew ? 1 : 0,
    litres: more,
    fills: fill !== undefined && fill !== tally.fill ? 1 : 0,
  };
}

/**
 * Counts a verdict. Unknown holds the delays where they stand; anything else than what a delay waits for ends it.
 * `gross` undefined: nobody can tell, and that delay holds.
 */
export function count(
  tally: Tally,
  {
    verdict,
    zone,
    gross,
  }: {
    readonly verdict: Verdict;
    readonly zone: Zone;
    readonly gross: boolean | undefined;
  },
  nowMs: number,
): Tally {
  const step = stepOf(tally, verdict);
  // What is said again of the same reading moves only clocks.
  const isSaidAgain = verdict.tMs !== undefined && step.readings === 0;
  const { last } = tally;
  const side = (passed: Passed, isNow: boolean, wasBefore: boolean): Passed =>
    zone === "unknown"
      ? holdStill(passed, nowMs)
      : isNow
        ? passOn(passed, step, wasBefore, nowMs)
        : nothingPassed;
  return {
    on: side(tally.on, zone === "past", last.zone === "past"),
    off: side(tally.off, zone === "inside", last.zone === "inside"),
    gross:
      gross === undefined
        ? holdStill(tally.gross, nowMs)
        : gross
          ? passOn(tally.gross, step, last.isGross, nowMs)
          : nothingPassed,
    last: isSaidAgain ? last : { zone, isGross: gross === true },
    tMs: step.readings > 0 ? (verdict.tMs as number) : tally.tMs,
    litres: typeof verdict.litres === "number" ? verdict.litres : tally.litres,
    fill: verdict.fill ?? tally.fill,
  };
}
