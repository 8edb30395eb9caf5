/** What every act carries. */
export interface ActBase {
  readonly type: string;
  /** Unique id given by the gateway when it takes the act. */
  readonly id: string;
  /** Who: an account's name, or "operator" in the loopback demo. */
  readonly by: string;
  /** Valid from, epoch ms, where it differs from when it was entered. */
  readonly validFromMs?: number;
  readonly note?: string;
  /** Given under this version or a later one: an occurrence is meant by just its name, not by one of before. */
  readonly isExact?: boolean;
}

/** Why an act was not taken, by name and in words. */
export interface ActRefused {
  readonly code:
    | "no-such-alarm"
    | "occurrence-changed"
    | "not-possible-in-state"
    | "no-such-drum"
    | "no-such-stage"
    | "no-such-floor"
    | "no-such-float"
    | "no-such-channel"
    | "no-such-point"
    | "calibration-not-usable"
    /** Stored by another version, or damaged: it is passed over. */
    | "act-not-known"
    /** Written down; a fault kept it from being carried out. */
    | "act-failed"
    /** Taken; the disk has not answered in time. */
    | "act-not-written-yet";
  readonly message: string;
}
