import type { Fill, RunState } from "../fills/index.ts";
import type { Line } from "../line/index.ts";
import type { Gone, Measurement } from "../measurements/index.ts";
import type { Attention, NotJudged } from "./alarm.ts";

/** What a condition says of one subject. */
export interface Report {
  raise(subject: string, value: number | null, gross: boolean, nowMs: number): void;
  return(subject: string, value: number | null, nowMs: number): void;
  /** Whether the subject is judged now; `because` null means it is. */
  judged(subject: string, because: NotJudged | null, nowMs: number): void;
  /** The last judged value, for show. */
  value(subject: string, value: number): void;
}

/** The moving part of a condition: sees measurements and runs, reports raises and returns. State is plain JSON. */
export interface Evaluator {
  useLine(line: Line): void;
  measurement(measurement: Measurement, nowMs: number, report: Report): void;
  /** What a channel measured is no longer about now: unknown from here on. */
  gone(gone: Gone, nowMs: number, report: Report): void;
  fill(fill: Fill, nowMs: number, report: Report): void;
  run(run: RunState, nowMs: number, report: Report): void;
  /** A medium of this stage was changed: what it explained is over. */
  mediumChanged(stage: string, nowMs: number, report: Report): void;
  /** An operator reset the subject: judging begins anew. */
  reset(subject: string): void;
  nextDeadline(): number | null;
  pass(nowMs: number, report: Report): void;
  snapshot(): unknown;
  restore(state: unknown): void;
}

/** One condition of the registry; page, API and documents are made from it. */
export interface Condition {
  readonly id: string;
  readonly subjectKind: "point" | "drum";
  /** What it says, in plain words. */
  readonly title: string;
  readonly unit: string;
  /** Where the limit comes from. */
  readonly source: string;
  readonly latching: boolean;
  /** Conditions whose new, unseen alarm of the same subject calls for this one too: it then does not ring a second time. */
  readonly calledBy?: readonly string[];
  readonly cause: string;
  readonly consequence: string;
  readonly response: string;
  /** Delays and gate, in words, for the documents. */
  readonly timing: string;
  limit(line: Line, subject: string): number | null;
  attention(line: Line, subject: string): Attention;
  /** Stage or drum whose work in progress suppresses this subject by design. */
  suppressedBy(
    line: Line,
    subject: string,
    work: { readonly kind: "stage" | "drum"; readonly id: string },
  ): boolean;
  evaluator(): Evaluator;
}
