import type { Disagreement, FillIsLong, GuardReason, StopFailed } from "./guard.ts";

/** A thing that must be seen twice in a row, at least 5 s apart. */
interface Twice {
  readonly sinceMs: number;
  lastMs: number;
  readings: number;
}

/** Inflow that is counted from a moment: the meter's total and the level's inflow count then. */
export interface Mark {
  readonly tMs: number;
  meterL: number | null;
  readonly levelL: number | null;
  /** What the level had seen drawn by then; absent in rows of versions before. */
  readonly drawnL?: number;
  /** A person had said that they fill; absent: nobody had. */
  readonly isSaid?: true;
}

/** The valve of a drum in a call that goes on: a clock may shut it in between. */
export interface Opened {
  readonly callMs: number;
  readonly openMs: number;
  /** So many times it has opened since the call began: one that it found open is no whole opening. */
  readonly times: number;
  readonly isOpen: boolean;
  readonly lastMs: number;
}

/** The level of a drum that is to fill has not risen since. */
interface Ebb {
  readonly sinceMs: number;
  /** Where it stood then, and where it stood lowest since, litres. */
  readonly fromL: number;
  readonly lowestL: number;
  readonly lowestAtMs: number;
}

/** What is remembered of one drum's guard. Plain data. */
export interface GuardState {
  seen: Partial<Record<GuardReason, Twice>>;
  stopFailed: StopFailed | null;
  /** Since when no witness says that water runs, while the stop is taken to have failed. */
  quietSinceMs: number | null;
  /** Greatest level while it stood at the brim: a fall of 1 % from it shows that inflow has ended. */
  brimL: number | null;
  /** A person closed the supply: nothing is said of inflow and nothing runs. */
  isClosed: boolean;
  /** When a person said so, ms; absent in rows of versions before. */
  closedAtMs?: number;
  /** Where the level stood when the failure was over: no higher than that it is the same water. */
  restsL: number | null;
  /** The trip after which inflow must end, and what has come in since its grace ended. */
  trip: (Mark & { graceOver: Mark | null }) | null;
  /** When its meter last served another drum, as far as anybody knows; null: never. */
  servedMs: number | null;
  /** When inflow last ended; null while it runs, or when it never ran. */
  stillSinceMs: number | null;
  /** Inflow that began with the float wet. */
  wetInflow: Mark | null;
  /** Inflow that began in the night, into a drum that is filled by hand and that nobody fills. */
  nightInflow: Mark | null;
  /** A person said that they fill when it was last looked at; absent: nobody did, or a row of versions before. */
  isSaid?: true;
  long: FillIsLong | null;
  disagrees: Disagreement | null;
  /** Since when it calls and nothing comes. */
  vainSinceMs: number | null;
  /** Where meter and level stood when they were last seen to go together. */
  beside: Mark | null;
  /** Its float called when it was last heard. */
  calledLast: boolean;
  /** What its level had seen drawn, and since when no more: one that shows draws is alive; absent: none was heard. */
  drawn?: { readonly litres: number; readonly sinceMs: number } | undefined;
  lostSinceMs: number | null;
  stopWet: boolean | null;
  /** How long its valve has stood open in the call that goes on; absent: no contact tells of the valve, or none goes on. */
  opened?: Opened | undefined;
  /** Its level has not risen since; absent: none is read, or nothing is to come. */
  ebb?: Ebb | undefined;
  /** Its float chatters, or did, and the water has not fallen clear of it since; absent in rows of versions before. */
  hasChattered?: boolean;
  /** What its level read before, litres; absent: nothing, or a row of versions before. */
  levelWasL?: number;
  /** When that was read, ms; absent: nothing, or a row of versions before. */
  levelWasMs?: number;
  /** The level leapt past where its last trips read far too low; absent: it did not. */
  isSetRight?: boolean;
  /** By so many litres it reads more since; absent: it was not set right, or a row of versions before. */
  setRightByL?: number;
  /** Whether its float was up, and what its level read where it last released, litres; absent: not seen, or a row of versions before. */
  wasUp?: boolean;
  releasedL?: number;
  /** The float was dry when a person said that they stopped, then, ms, and whether it has tripped since; absent: not seen. */
  stoppedDry?: { readonly sinceMs: number; readonly hasTripped: boolean };
}

/** Nothing has been seen of the stop yet. */
export function newGuardState(): GuardState {
  return {
    seen: {},
    stopFailed: null,
    quietSinceMs: null,
    brimL: null,
    isClosed: false,
    restsL: null,
    trip: null,
    servedMs: null,
    stillSinceMs: null,
    wetInflow: null,
    nightInflow: null,
    long: null,
    disagrees: null,
    vainSinceMs: null,
    beside: null,
    calledLast: false,
    lostSinceMs: null,
    stopWet: null,
  };
}

/** Counts how long the valve stands open in a call since `callMs` (null: none goes on); `open` null: it can't be told. */
export function followOpened(
  was: Opened | undefined,
  {
    callMs,
    open,
    tMs,
  }: { readonly callMs: number | null; readonly open: boolean | null; readonly tMs: number },
): Opened | undefined {
  if (callMs === null) return undefined;
  if (open === null) return was?.callMs === callMs ? { ...was, lastMs: tMs } : undefined;
  const before = was?.callMs === callMs ? was : { openMs: 0, times: 0, isOpen: open, lastMs: tMs };
  return {
    callMs,
    openMs: before.openMs + (before.isOpen ? Math.max(0, tMs - before.lastMs) : 0),
    times: before.times + (open && !before.isOpen ? 1 : 0),
    isOpen: open,
    lastMs: tMs,
  };
}

const twiceMs = 5000;

/** Two readings in a row and at least 5 s: true once `isTrue` was so at two different times. */
export function seenTwice(state: GuardState, rule: GuardReason, isTrue: boolean, tMs: number): boolean {
  if (!isTrue) {
    if (state.seen[rule] !== undefined) delete state.seen[rule];
    return false;
  }
  const seen = state.seen[rule] ?? { sinceMs: tMs, lastMs: tMs, readings: 1 };
  state.seen[rule] = seen;
  if (tMs > seen.lastMs) {
    seen.lastMs = tMs;
    seen.readings += 1;
  }
  return seen.readings >= 2 && tMs - seen.sinceMs >= twiceMs;
}
