import { z } from "zod";
import { time } from "./words.ts";

const method = z.enum(["lifted", "bucket", "water"]);
const saw = z
  .array(z.object({ state: z.enum(["wet", "dry"]), contact: z.enum(["closed", "open"]), at: time }))
  .meta({ description: "as it hung, as it was held up, as it hung again: as far as it was seen" });

/**
 * A test of a float that is over: what was seen and what that proves. Lifting proves contact and wire, not buoyancy.
 */
export const proofSchema = z
  .object({
    id: z.string(),
    float: z.string(),
    channel: z.string(),
    method,
    by: z.string(),
    note: z.string().nullable(),
    startedAt: time,
    endedAt: time,
    result: z.enum([
      "passed",
      "reversed",
      "turned",
      "no-change",
      "stayed",
      "flickered",
      "silent",
      "cancelled",
    ]),
    proves: z
      .array(z.enum(["contact", "wire", "buoyancy", "place"]))
      .meta({ description: "what it showed to work; nothing where it did not pass" }),
    saw,
  })
  .meta({ id: "Proof" });

/** Tests that are over, newest first. */
export const proofListSchema = z.object({ items: z.array(proofSchema), next: z.string().nullable() });

/** A test of a float that runs. */
export const runningProofSchema = z
  .object({
    id: z.string(),
    method,
    by: z.string(),
    startedAt: time,
    dueAt: time.meta({ description: "what was not seen by then is not written down as proved" }),
    waitsFor: z.enum(["wet", "dry"]),
    saw,
  })
  .meta({ id: "RunningProof" });

/** A test of a float that is over. */
export type ProofView = z.infer<typeof proofSchema>;
/** A test of a float that runs. */
export type RunningProofView = z.infer<typeof runningProofSchema>;
