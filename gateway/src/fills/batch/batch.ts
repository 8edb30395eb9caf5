/** Where a batch stands. From `salted` to `heel` there is salt in the drum. */
export type BatchState =
  | "unknown"
  | "empty"
  | "filling"
  | "fresh"
  | "salted"
  | "mixing"
  | "ready"
  | "in-use"
  | "heel";

/** Salt that went in. */
interface SaltAdded {
  readonly atMs: number;
  /** Null: nobody entered it, the drum's probe saw it. */
  readonly by: string | null;
  readonly kg: number | null;
  readonly lot: string | null;
}

/** A batch of salt water, or what a drum for salt holds instead; told at each turn. */
export interface Batch {
  readonly kind: "batch";
  /** `{drum}@{begin, epoch ms}`: when the drum was emptied for it, or first heard of. */
  readonly id: string;
  readonly drum: string;
  readonly state: BatchState;
  readonly sinceMs: number;
  readonly salt: readonly SaltAdded[];
  /** Practical salinity: the probe's, or what a person measured last; null: not known. */
  readonly salinity: number | null;
  readonly salinityBy: "probe" | "hand" | null;
  /** What still keeps it from being ready, in words. */
  readonly waits: readonly string[];
  /** Ready or in use, and its salinity has been out of its band for a while. */
  readonly isOff: boolean;
  /** Fresh water that ran into it after it was salted, L; 0: none. */
  readonly cameInL: number;
  /** Such water runs now, unasked, and since when. */
  readonly intruding: { readonly sinceMs: number; readonly litres: number | null } | null;
  readonly atMs: number;
}

/** Greatest and least salinity of a minute. */
interface Minute {
  readonly tMs: number;
  readonly min: number;
  readonly max: number;
}

/** What is remembered of one drum's batch. Plain data; one row of the checkpoint. */
export interface BatchNow {
  beganMs: number;
  state: BatchState;
  sinceMs: number;
  salt: SaltAdded[];
  salinity: number | null;
  salinityBy: "probe" | "hand" | null;
  /** Of the last half hour in which nothing went in, a minute each. */
  minutes: Minute[];
  /** Salinity as it was first read after salt went in. */
  first: number | null;
  /** When the probe in the drum was last heard, and since when it has read salt in water that nobody salted. */
  probedMs: number | null;
  saltSeenMs: number | null;
  offSinceMs: number | null;
  isOff: boolean;
  /** When salt or water last went in. */
  addedMs: number;
  /** A person adds fresh water on purpose up to then. */
  waterUntilMs: number;
  cameInL: number;
  /** The fill that runs into salt water, and its litres so far. */
  inflow: { readonly fill: string; readonly sinceMs: number; litres: number | null; isTold: boolean } | null;
  /** Greatest level since salt went in, L; null: none tells. */
  deepestL: number | null;
  /** The level's count of what was drawn when it became ready. */
  drawnL: number | null;
  /** What was before the drum was said to be empty, while that can be taken back. */
  undo: Omit<BatchNow, "undo"> | null;
}

const salty: ReadonlySet<BatchState> = new Set(["salted", "mixing", "ready", "in-use", "heel"]);

/** There is salt in it: nothing may flow in, and solids tell nothing of the line. */
export const isSalted = (state: BatchState): boolean => salty.has(state);

/** There is salt in it and it is not ready. */
export const isBeingMixed = (state: BatchState): boolean => state === "salted" || state === "mixing";

/** A drum of which nothing is known yet. */
export function newBatch(state: BatchState, nowMs: number): BatchNow {
  return {
    beganMs: nowMs,
    state,
    sinceMs: nowMs,
    salt: [],
    salinity: null,
    salinityBy: null,
    minutes: [],
    first: null,
    probedMs: null,
    saltSeenMs: null,
    offSinceMs: null,
    isOff: false,
    addedMs: 0,
    waterUntilMs: 0,
    cameInL: 0,
    inflow: null,
    deepestL: null,
    drawnL: null,
    undo: null,
  };
}
