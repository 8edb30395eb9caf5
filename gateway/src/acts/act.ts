/** What people do and enter. An act is journaled first, then applied, then answered. */

interface ActBase {
  /** Unique id given by the gateway when it takes the act. */
  readonly id: string;
  /** Who: an account's name, or "operator" in the loopback demo. */
  readonly by: string;
  /** Valid from, epoch ms, where it differs from when it was entered. */
  readonly validFromMs?: number;
  readonly note?: string;
}

/** An act on one occurrence of an alarm; another occurrence than the standing one is refused (409). */
interface AlarmActBase extends ActBase {
  readonly key: string;
  readonly occurrence: string;
}

export interface Acknowledge extends AlarmActBase {
  readonly type: "acknowledge";
}
export interface Shelve extends AlarmActBase {
  readonly type: "shelve";
  readonly untilMs: number;
  readonly oneShot?: boolean;
}
export interface Unshelve extends AlarmActBase {
  readonly type: "unshelve";
}
export interface Reset extends AlarmActBase {
  readonly type: "reset";
}
export interface OutOfService extends AlarmActBase {
  readonly type: "out-of-service";
}
export interface InService extends AlarmActBase {
  readonly type: "in-service";
}
/** "I'm working on … for 30 min": suppresses by design what that stage or drum can cause. */
export interface WorkOn extends ActBase {
  readonly type: "work-on";
  readonly subject: { readonly kind: "stage" | "drum"; readonly id: string };
  readonly untilMs: number;
}
/** One point (offset or cell factor) or two points; values in the channel's quantity unit. */
export interface Calibration extends ActBase {
  readonly type: "calibration";
  readonly channel: string;
  readonly points: readonly {
    readonly read: number;
    readonly true: number;
    readonly temperatureC?: number;
  }[];
}
export interface MediumChange extends ActBase {
  readonly type: "medium-change";
  readonly stage: string;
  readonly medium?: string;
  readonly volumeL?: number;
  readonly capacityEq?: number;
  readonly cost?: number;
}
export interface ProofTest extends ActBase {
  readonly type: "proof-test";
  readonly float: string;
  readonly how: "lifted" | "bucket" | "water";
}
export interface AssignChannel extends ActBase {
  readonly type: "assign";
  readonly channel: string;
  readonly to: string;
}
export interface Note extends ActBase {
  readonly type: "note";
  readonly text: string;
  readonly subject?: string;
}
export interface ReleaseDrum extends ActBase {
  readonly type: "release";
  readonly drum: string;
  readonly reason: "hand-test" | "dumped" | "diluted" | "other";
  /** Of a hand test: the reference conductivity that it found, uS/cm at 25 °C; may be left out with a note. */
  readonly value25UsPerCm?: number;
}
export interface FillByHand extends ActBase {
  readonly type: "fill-started" | "fill-stopped";
  readonly drum: string;
}

export type AlarmAct = Acknowledge | Shelve | Unshelve | Reset | OutOfService | InService;
export type Act =
  | AlarmAct
  | WorkOn
  | Calibration
  | MediumChange
  | ProofTest
  | AssignChannel
  | Note
  | ReleaseDrum
  | FillByHand;

/** Why an act was not taken, by name and in words. */
export interface ActRefused {
  readonly code:
    | "no-such-alarm"
    | "occurrence-changed"
    | "not-possible-in-state"
    | "no-such-drum"
    | "no-such-stage"
    | "no-such-float"
    | "no-such-channel"
    | "calibration-not-usable"
    /** Written down; a fault kept it from being carried out. */
    | "act-failed"
    /** Taken; the disk has not answered in time. */
    | "act-not-written-yet";
  readonly message: string;
}
