import type { ProofMethod } from "../../acts/index.ts";
import type { Proof, ProofResult, RunningProof } from "./proof.ts";

/** A change counts at its second reading in a row, so long after the first. */
const heldMs = 1000;
/** More changes than this in one test are a contact that flickers. */
const maxChanges = 6;
/** How long a test waits, ms: a hand, a bucket, a fill (common practice, no source). */
const waitsMs: Readonly<Record<ProofMethod, number>> = {
  lifted: 3 * 60_000,
  bucket: 10 * 60_000,
  water: 3 * 3_600_000,
};
/** A node that speaks seldom needs four readings, and some to spare. */
const waitsPeriods = 6;

/** How long a test waits, ms. */
export function waitMs(method: ProofMethod, periodMs: number | null): number {
  return Math.max(waitsMs[method], waitsPeriods * (periodMs ?? 0));
}

/** Takes a reading of the raw contact into a running test. */
export function takeContact(test: RunningProof, closed: boolean, tMs: number): RunningProof {
  const { saw, pending } = test;
  const now = saw.at(-1);
  if (tMs < test.startedAtMs || now === undefined) return test;
  const wasClosed = pending?.closed ?? now.closed;
  const taken = {
    ...test,
    readings: test.readings + 1,
    changes: test.changes + (closed === wasClosed ? 0 : 1),
  };
  if (closed === now.closed) return { ...taken, pending: null };
  if (pending === null) return { ...taken, pending: { closed, tMs } };
  if (tMs - pending.tMs < heldMs) return taken;
  return { ...taken, pending: null, saw: [...saw, pending] };
}

/** Whether a test is over by what it saw: it came back to how it hung, or it flickers. */
export function outcomeOf(
  { saw, changes }: RunningProof,
  wetWhen: boolean,
): "passed" | "reversed" | "flickered" | null {
  if (changes > maxChanges) return "flickered";
  const [hung] = saw;
  if (saw.length < 3 || hung === undefined) return null;
  return hung.closed === wetWhen ? "reversed" : "passed";
}

/** What a test comes to when its time is over. */
export function outcomeAtEnd({ saw, readings }: RunningProof): "silent" | "no-change" | "stayed" {
  if (readings === 0) return "silent";
  return saw.length === 1 ? "no-change" : "stayed";
}

/** The test as it ended. */
export function ended(
  { pending: _, readings: _readings, changes: _changes, dueMs: _due, ...test }: RunningProof,
  { result, endedAtMs, wetWhen }: { result: ProofResult; endedAtMs: number; wetWhen: boolean | null },
): Proof {
  return { kind: "proof", ...test, endedAtMs, result, wetWhen };
}
