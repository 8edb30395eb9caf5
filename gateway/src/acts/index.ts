export type { ActBase, ActRefused } from "./act-base.ts";
export { type Act, acts, type GivenAct, readAct, subjectOfAct, unknownSubject, whyUnread } from "./acts.ts";
export type {
  Acknowledge,
  AlarmAct,
  InService,
  OutOfService,
  Reset,
  Shelve,
  Unshelve,
} from "./alarm-acts.ts";
export type { BatchStep } from "./batch-step.ts";
export type { Calibration } from "./calibration.ts";
export { type ActAnswer, type ActKind, defineAct } from "./define-act.ts";
export type { FillByHand } from "./fill-by-hand.ts";
export type { HandTest } from "./hand-test.ts";
export type { MediumChange } from "./medium-change.ts";
export type { Note } from "./note.ts";
export type { ProofMethod } from "./proof-test.ts";
export type { ReleaseDrum } from "./release-drum.ts";
export type { ReleaseUndo } from "./release-undo.ts";
export type { WorkDone } from "./work-done.ts";
export type { WorkOn } from "./work-on.ts";
