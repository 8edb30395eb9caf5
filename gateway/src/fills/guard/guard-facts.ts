import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Learned } from "../learned.ts";

/** What the rules go by. */
export interface GuardFacts {
  readonly drum: Drum;
  readonly said: DrumWitnesses;
  readonly learned: Learned;
  readonly graceMs: number;
  /** Of the running fill; null while none runs. */
  readonly fill: {
    readonly startedAtMs: number;
    readonly meterL: number | null;
    readonly levelL: number | null;
    /** Litres in the drum when it began, by its level. */
    readonly contentsL: number | null;
    readonly drawnL: number;
    /** It stood for a while, the supply shut: how long it took tells nothing. */
    readonly hasStood: boolean;
  } | null;
  /** Its overflow float was proved, and the proof holds up to then; null: it was not. */
  readonly overflowProvedUntilMs: number | null;
  /** Whether a moment lies in the site's night. */
  readonly isNight: (ms: number) => boolean;
  /** Water has come in the call that goes on. */
  readonly hadFill: boolean;
  /** A person has emptied the drum, and its float has not tripped since. */
  readonly isEmptied: boolean;
  /** What is known of the running fill comes late: how long it takes tells nothing yet. */
  readonly isAwaiting: boolean;
  /** The float calls since, by the time of its readings; null: it does not, or the drum is filled by hand. */
  readonly callSinceMs: number | null;
}
