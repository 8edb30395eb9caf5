import type { Attention } from "../alarms/index.ts";
import type { BatchState, Fill } from "../fills/index.ts";
import type { Draw, FloatChange, Gap } from "./facts.ts";

/** A stretch that nobody watched, with all that was not heard in it. */
export interface Unwatched {
  readonly fromMs: number;
  /** Null: it goes on. */
  readonly toMs: number | null;
  /** "gateway", or the node's name. */
  readonly who: string;
  /** Channels of that node that said nothing; none where it is the gateway. */
  readonly channels: readonly string[];
  /** Ids of the fills that ran meanwhile. */
  readonly fills: readonly string[];
}

/** A drum in a night. */
export interface DrumNight {
  readonly drum: string;
  /** What came in during the night, L; null where no fill of it knows its litres. */
  readonly litres: number | null;
  readonly fills: number;
  /** Volume-weighted mean and greatest κ25 of what came in, uS/cm. */
  readonly mean25: number | null;
  readonly peak25: number | null;
  /** Share of what came in that a valid reading saw, 0 to 1; null where nothing came in. */
  readonly watched: number | null;
  readonly drawnL: number;
  /** Its words, oldest first: the one that it went into the night with, then each change. */
  readonly words: readonly {
    readonly verdict: "use" | "hold" | "unknown";
    readonly sinceMs: number;
    readonly reasons: readonly string[];
    /** Of a drum in which salt is mixed. */
    readonly batch?: BatchState | undefined;
  }[];
}

/** A batch of salt water went on to another state, or salt went in. */
export interface BatchTurn {
  readonly atMs: number;
  readonly drum: string;
  readonly state: BatchState;
  readonly salinity: number | null;
  /** Of salt that is in it, as far as it was entered. */
  readonly kg: number | null;
}

/** One occurrence of an alarm that stood in the night. */
export interface NightAlarm {
  readonly key: string;
  readonly occurrence: string;
  readonly condition: string;
  readonly subject: string;
  readonly attention: Attention;
  readonly text: string;
  readonly response: string;
  readonly raisedAtMs: number;
  /** Raised in this night; else it stood as the night began. */
  readonly isNew: boolean;
  readonly endedAtMs: number | null;
  readonly seenAtMs: number | null;
  readonly seenBy: string | null;
  /** Its worst moment: value against limit, in the unit. */
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: string;
  /** As it is now, as far as the report knows: the state, and whether it still asks for something. */
  readonly state: string;
  readonly stands: boolean;
  /** It is so and nobody hears of it: silent until a time, or switched off. Null: it is heard, or it is not so. */
  readonly silenced: { readonly as: "shelved" | "out-of-service"; readonly untilMs: number | null } | null;
  readonly under: string | null;
}

/** Something that a person did in the night or that morning. */
export interface NightAct {
  readonly atMs: number;
  readonly by: string;
  /** The button by which it was said; null: a person with a name. */
  readonly button: string | null;
  readonly what: string;
  readonly subject: string;
  /** Of work that began: until when what it can cause is silent, unless it ends before. */
  readonly untilMs: number | null;
  readonly note: string | null;
}

/** What to do this morning, the most urgent first. */
export interface FirstThing {
  readonly attention: Attention;
  /** A drum, point, node …; "" for the whole. */
  readonly subject: string;
  readonly kind: "alarm" | "hold" | "unknown" | "trip" | "unwatched";
  /** Of an alarm. */
  readonly condition: string | null;
  /** Of an alarm that somebody has made silent. */
  readonly silenced: NightAlarm["silenced"];
  /** An alarm that has ended, and waits to be seen or reset. */
  readonly over: boolean;
  /** What is, and what to do. */
  readonly text: string;
  readonly todo: string;
}

/** A night. A fold over records: what a derivation changes in them changes it. */
export interface Night {
  readonly date: string;
  readonly timezone: string;
  readonly fromMs: number;
  readonly toMs: number;
  /** It goes on. */
  readonly isRunning: boolean;
  /** Share of its time (so far) in which the gateway and every channel was heard, 0 to 1. */
  readonly watched: number;
  /** So long of its time (so far) they were not, ms. */
  readonly unwatchedMs: number;
  readonly unwatched: readonly Unwatched[];
  readonly first: readonly FirstThing[];
  /** L; null where no fill knows its litres. */
  readonly litres: number | null;
  readonly fills: readonly Fill[];
  readonly drums: readonly DrumNight[];
  readonly floats: readonly FloatChange[];
  readonly batches: readonly BatchTurn[];
  readonly draws: readonly Draw[];
  readonly alarms: readonly NightAlarm[];
  readonly acts: readonly NightAct[];
  readonly gaps: readonly Gap[];
  /** Nodes that fell silent or started anew in it. */
  readonly nodes: readonly { readonly node: string; readonly silentMs: number; readonly starts: number }[];
}
