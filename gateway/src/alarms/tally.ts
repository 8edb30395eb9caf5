import type { Verdict } from "./condition.ts";
import { giveBack, holdStill, nothingPassed, type Passed, passOn, type Step } from "./delays.ts";

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
const isSame = (a: Tally, b: Tally): boolean =>
  a.tMs === b.tMs &&
  a.on === b.on &&
  a.gross === b.gross &&
  a.off === b.off &&
  a.last.zone === b.last.zone &&
  a.last.isGross === b.last.isGross &&
  a.litres === b.litres &&
  a.fill === b.fill;

type Moving = { -readonly [Key in keyof Tally]: Tally[Key] };

const lasts: Readonly<Record<Zone, Tally["last"]>> = {
  past: { zone: "past", isGross: false },
  near: { zone: "near", isGross: false },
  inside: { zone: "inside", isGross: false },
  unknown: { zone: "unknown", isGross: false },
};

/** Nothing is waited for, neither its begin nor its end: as nearly all of them are, at nearly each reading. */
export const isCalm = ({ on, gross, off }: Tally): boolean =>
  on === nothingPassed && gross === nothingPassed && off === nothingPassed;

/**
 * `count` of a calm tally that nothing begins in: neither past its limit nor gross, and it does not stand. Only the newest
 * reading moves on, in place: a new tally at each reading cost more than all the rest. Null where nothing moved.
 */
export function movedOn(tally: Tally, { tMs, litres, fill }: Verdict, zone: Zone): Tally | null {
  const isNew = tMs !== undefined && (tally.tMs === null || tMs > tally.tMs);
  const { last } = tally;
  const isLast = (tMs !== undefined && !isNew) || (last.zone === zone && !last.isGross);
  const litresNow = typeof litres === "number" ? litres : tally.litres;
  const fillNow = fill ?? tally.fill;
  if (isLast && !isNew && litresNow === tally.litres && fillNow === tally.fill) return null;
  // That one is everybody's.
  const moving: Moving = tally === nothingCounted ? { ...tally } : tally;
  if (!isLast) moving.last = lasts[zone];
  if (isNew) moving.tMs = tMs;
  moving.litres = litresNow;
  moving.fill = fillNow;
  return moving;
}

/** Brings the time of a tally's newest reading forward, in place; false where it is no newer. */
export function movedTo(tally: Tally, tMs: number): boolean {
  if (tally.tMs !== null && tMs <= tally.tMs) return false;
  (tally as Moving).tMs = tMs;
  return true;
}

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

/** What is counted: a verdict with its zone, and whether the condition stands. */
interface Counting {
  readonly verdict: Verdict;
  readonly zone: Zone;
  /** Undefined: nobody can tell, and that delay holds. */
  readonly gross: boolean | undefined;
  readonly isActive: boolean;
  /** Its begin goes by the share of time past the limit: one reading inside it clears nothing. */
  readonly isByShare: boolean;
}

/**
 * Counts a verdict. Unknown holds the delays where they stand; anything else than what a delay waits for ends it, or takes its
 * share of it. Only what is waited for is counted: while a condition stands, how it ends. Gives the same tally where nothing was counted.
 */
export function count(
  tally: Tally,
  { verdict, zone, gross, isActive, isByShare }: Counting,
  nowMs: number,
): Tally {
  const step = stepOf(tally, verdict);
  // What is said again of the same reading moves only clocks.
  const isSaidAgain = verdict.tMs !== undefined && step.readings === 0;
  const { last } = tally;
  let [on, off, onGross] = [nothingPassed, nothingPassed, nothingPassed];
  if (isActive) {
    if (zone === "unknown") off = holdStill(tally.off, nowMs);
    else if (zone === "inside") off = passOn(tally.off, step, last.zone === "inside", nowMs);
  } else {
    if (zone === "unknown") on = holdStill(tally.on, nowMs);
    else if (zone === "past") on = passOn(tally.on, step, last.zone === "past", nowMs);
    else if (isByShare && tally.on !== nothingPassed)
      // The time from one mind to the other is neither's: so it is where the next one is past again.
      on = last.zone === "past" ? tally.on : giveBack(tally.on, step);
    if (gross === undefined) onGross = holdStill(tally.gross, nowMs);
    else if (gross) onGross = passOn(tally.gross, step, last.isGross, nowMs);
  }
  const isLast = isSaidAgain || (last.zone === zone && last.isGross === (gross === true));
  const next: Tally = {
    on,
    gross: onGross,
    off,
    last: isLast ? last : { zone, isGross: gross === true },
    tMs: step.readings > 0 ? (verdict.tMs as number) : tally.tMs,
    litres: typeof verdict.litres === "number" ? verdict.litres : tally.litres,
    fill: verdict.fill ?? tally.fill,
  };
  return isSame(tally, next) ? tally : next;
}
