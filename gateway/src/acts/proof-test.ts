import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, type Given, refuseUnless } from "./define-act.ts";
import { entered, withTime } from "./entered.ts";

/** A float was tried: by lifting it, in a bucket, by the drum's own water. */
export interface ProofTest extends ActBase {
  readonly type: "proof-test";
  /** `drum.role`. */
  readonly float: string;
  readonly how: "lifted" | "bucket" | "water";
}

const how = z.enum(["lifted", "bucket", "water"]);

export const proofTest = defineAct({
  types: ["proof-test"],
  path: "/api/proof-tests",
  role: "operator",
  summary: "Proof tests of floats: enters one",
  list: "Proof tests of floats",
  answer: "entered",
  schema: z.object({ ...entered, float: z.string().max(127), how }).meta({ id: "ProofTest" }),
  given: ({ body }) => ({ type: "proof-test", ...withTime(body) }) as Given<ProofTest>,
  stored: { float: z.string(), how },
  subject: (act: ProofTest) => act.float,
  known: ({ float }, line) => refuseUnless(line?.hasFloat(float) ?? false, "float", float),
});
