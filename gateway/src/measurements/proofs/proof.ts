import type { ProofMethod } from "../../acts/index.ts";
import { defineCell } from "../../path/index.ts";

/**
 * How a test ended. `passed`: dry, wet, dry. `reversed`: the same with the contact the other way round, nothing changed;
 * `turned`: a person then confirmed it. `no-change`, `stayed`: it never became wet, or never dry again. `flickered`: it
 * changed over too often to tell. `silent`: its node said nothing.
 */
export type ProofResult =
  | "passed"
  | "reversed"
  | "turned"
  | "no-change"
  | "stayed"
  | "flickered"
  | "silent"
  | "cancelled";

/** A raw contact as it was seen, and since when. */
interface ProofSight {
  readonly closed: boolean;
  readonly tMs: number;
}

/** A test of a float that is over. */
export interface Proof {
  readonly kind: "proof";
  /** `{float}@{begin, epoch ms}`. */
  readonly id: string;
  readonly float: string;
  readonly channel: string;
  readonly method: ProofMethod;
  readonly by: string;
  readonly note: string | null;
  readonly startedAtMs: number;
  readonly endedAtMs: number;
  readonly result: ProofResult;
  /** The contact as it hung, as it was held up, as it hung again: as far as it was seen. */
  readonly saw: readonly ProofSight[];
  /** The raw contact that means "water is at the float" from then on; null: not known still. */
  readonly wetWhen: boolean | null;
}

/** A test that runs. */
export interface RunningProof {
  readonly id: string;
  readonly float: string;
  readonly channel: string;
  readonly method: ProofMethod;
  readonly by: string;
  readonly note: string | null;
  readonly startedAtMs: number;
  readonly dueMs: number;
  readonly saw: readonly ProofSight[];
  /** A change that waits for its second reading. */
  readonly pending: ProofSight | null;
  /** Readings since the begin, and changes among them. */
  readonly readings: number;
  readonly changes: number;
}

/** The test of a float that runs, and the last one that ended. */
export interface FloatTests {
  readonly running: RunningProof | null;
  readonly last: Proof | null;
  /** Since when another contact tells of it, or the same one the other way round, ms; absent: nobody has changed that. */
  readonly contactSinceMs?: number;
}

/** By the float's id. */
export const proofCell = defineCell<FloatTests>("proof");

/** Whether a test shows that the float works: contact and wire, and with water also that it swims. */
export const isProof = ({ result }: Pick<Proof, "result">): boolean =>
  result === "passed" || result === "turned";
