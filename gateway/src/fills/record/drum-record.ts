import type { Drum } from "../../line/index.ts";
import { type GuardState, newGuardState } from "../guard/guard-state.ts";
import { type Learned, nothingLearned } from "../learned.ts";
import type { Inflow, MeterZero } from "./best-witness.ts";
import type { OpenFill } from "./open-fill.ts";
import { notOver, type OverLimit } from "./over-limit.ts";

/** A call of the float, from its release to its trip. */
interface Call {
  readonly sinceMs: number;
  readonly meterL: number | null;
  readonly levelL: number | null;
  /** A fill was recorded in it. */
  hadFill: boolean;
}

/** What is remembered of one drum's fills. Plain data; one row of the checkpoint. */
export interface DrumRecord {
  open: OpenFill | null;
  inflow: Inflow;
  learned: Learned;
  guard: GuardState;
  over: OverLimit;
  stopWet: boolean | null;
  call: Call | null;
  meterZero: MeterZero | null;
  /** When the float that calls now was seen to turn dry; null: it was dry at first sight. */
  floatBeganMs: number | null;
  lastEndMs: number;
  atMs: number;
}

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
  readonly graceMs: number;
}
