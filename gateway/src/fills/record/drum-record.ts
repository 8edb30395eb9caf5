import type { Drum } from "../../line/index.ts";
import type { Fill } from "../fill.ts";
import { type GuardState, newGuardState } from "../guard/guard-state.ts";
import { type Learned, nothingLearned } from "../learned.ts";
import type { Inflow, MeterZero } from "./best-witness.ts";
import type { OpenFill } from "./open-fill.ts";
import { notOver, type OverLimit } from "./over-limit.ts";
import type { JudgedHole, JudgedLate } from "./owed-fills.ts";

/** A call of the float, from its release to its trip. */
export interface Call {
  readonly sinceMs: number;
  /** Its release was heard: it was wet before. */
  readonly isWhole: boolean;
  readonly meterL: number | null;
  /** Null once the level was silent or lost meanwhile: what was drawn then it has not seen. */
  levelL: number | null;
  /** Poured in by hand by then, as far as a level saw it; absent in rows of versions before. */
  readonly handL?: number;
  /** A fill was recorded in it. */
  hadFill: boolean;
  /** An alarm stood over it; absent: none did, or a row of versions before. */
  isDoubted?: true;
}

/** A metered fill that waits for its level to stand. */
export interface Unsettled {
  readonly fill: Fill;
  readonly meterL: number;
  readonly levelStartL: number;
}

/** What is remembered of one drum's fills. Plain data; one row of the checkpoint. */
export interface DrumRecord {
  open: OpenFill | null;
  /** The last one, where silence ended it: what waited in its nodes may go on with it. Absent in rows of versions before. */
  cut?: { readonly open: OpenFill; readonly lastEndMs: number } | null;
  /** The last one, where it stopped while its float called on: water that comes again goes on with it. */
  stood?: { readonly open: OpenFill; readonly lastEndMs: number };
  inflow: Inflow;
  learned: Learned;
  guard: GuardState;
  over: OverLimit;
  /** The same, of what a probe's node had kept of fills that are over; absent: nothing. */
  late?: JudgedLate;
  /** The same, of what came after later readings; absent: nothing. */
  hole?: JudgedHole;
  /** A person answered for what came in before; absent in rows of versions before. */
  answeredMs?: number;
  /** A person has emptied it, and its float has not tripped since. */
  isEmptied?: true;
  stopWet: boolean | null;
  /** Since when the valve before it stands open; absent: it does not, or no contact tells. */
  openSinceMs?: number;
  call: Call | null;
  /** Of the last whole calls: the meter's litres as a share of those between release and trip. */
  callShares: number[];
  unsettled: Unsettled | null;
  /** So many times what its meter counted did its level show of the last fills that both saw; absent: none yet, or a row of versions before. */
  levelTimes?: readonly number[];
  /** Where the float tripped last, in a good fill or not, L. */
  lastTripL: number | null;
  /** Where it tripped in the last fill, whose stop had failed by then, L; absent: it had not, or a row of versions before. */
  pastTripL?: number;
  meterZero: MeterZero | null;
  /** When the float that calls now was seen to turn dry; null: it was dry at first sight. */
  floatBeganMs: number | null;
  /** The silence in which it did; null: it was heard to. Absent in rows of versions before. */
  beganUnheard?: { readonly fromMs: number; readonly toMs: number } | null;
  lastEndMs: number;
  /** What its level had counted by then, L; absent: nothing told, or a row of versions before. */
  lastEndL?: number | undefined;
  atMs: number;
  /** When its stop float was last seen to have been moved; absent: never. */
  movedMs?: number;
}

/** A drum of which no fill is known. */
export function newDrumRecord(): DrumRecord {
  return {
    open: null,
    inflow: {
      flowing: null,
      basis: "none",
      flowLPerMin: null,
      sinceMs: 0,
      estimated: false,
      meter: null,
    },
    learned: nothingLearned(),
    guard: newGuardState(),
    over: notOver(),
    stopWet: null,
    call: null,
    callShares: [],
    unsettled: null,
    lastTripL: null,
    meterZero: null,
    floatBeganMs: null,
    lastEndMs: 0,
    atMs: 0,
  };
}

/** What the line says round a drum, looked up once. */
export interface DrumPlace {
  readonly drum: Drum;
  /** The point whose probe sees what comes in, and its title. */
  readonly seenAt: string;
  readonly seenTitle: string;
  /** The point before the medium: what the probe can't read above. */
  readonly feedAt: string | null;
  readonly limit25: number | null;
  /** Behind a membrane alone the limit follows the feed. */
  readonly isBehindMembrane: boolean;
  /** What its fresh water may read, uS/cm at 25 °C; `by-feed`: that follows the feed. */
  readonly band25: number | "by-feed" | null;
  readonly graceMs: number;
  /** Whether a moment lies in the site's night. */
  readonly isNight: (ms: number) => boolean;
  /** Its overflow float, and after how many days it wants to be tested where the file says so. */
  readonly overflow: { readonly id: string; readonly days: number | null } | null;
}
