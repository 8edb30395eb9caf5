import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

/** How a float is tried: lifted by hand, in a bucket, by the drum's own water. */
export type ProofMethod = "lifted" | "bucket" | "water";

/** A person begins to try a float: the gateway watches for dry, wet, dry. */
export interface ProofStart extends ActBase {
  readonly type: "proof-start";
  /** The float's id. */
  readonly float: string;
  readonly method: ProofMethod;
}

/** A test is given up. */
export interface ProofCancel extends ActBase {
  readonly type: "proof-cancel";
  readonly float: string;
}

/** A person confirms that a float that was tested hung dry while it read wet: from now on it reads the other way round. */
export interface ProofTurn extends ActBase {
  readonly type: "proof-turn";
  readonly float: string;
  /** Id of the test that saw it. */
  readonly test: string;
}

const float = z.string().max(127);
const method = z.enum(["lifted", "bucket", "water"]);
const known = (act: { readonly float: string }, line: { hasFloat(id: string): boolean } | null) =>
  refuseUnless(line?.hasFloat(act.float) ?? false, "float", act.float);

/**
 * `POST /api/proof-tests`: a guided test of a float begins. Refused while another one of it runs, or nothing is heard
 * from it.
 */
export const proofStart = defineAct<
  ProofStart,
  { float: string; method: ProofMethod; note?: string | undefined }
>({
  types: ["proof-start"],
  path: "/api/proof-tests",
  role: "operator",
  summary: "A test of a float begins: the gateway waits for dry, wet, dry",
  answer: "line",
  schema: z.object({ float, method, note: z.string().max(2000).optional() }).meta({ id: "ProofStart" }),
  given: ({ body: { note, ...rest } }) => ({
    type: "proof-start",
    ...rest,
    ...(note === undefined ? {} : { note }),
  }),
  stored: { float: z.string(), method },
  subject: (act) => act.float,
  known,
});

/** `POST /api/proof-tests/{float}/cancel`: it is given up, and proves nothing; refused where none runs. */
export const proofCancel = defineAct<ProofCancel, object>({
  types: ["proof-cancel"],
  path: "/api/proof-tests/{float}/cancel",
  role: "operator",
  summary: "A test of a float is given up",
  answer: "line",
  schema: z.object({}).meta({ id: "ProofCancel" }),
  given: ({ params }) => ({ type: "proof-cancel", float: params.float ?? "" }),
  stored: { float: z.string() },
  subject: (act) => act.float,
  known,
});

/**
 * `POST /api/proof-tests/{float}/turn`: the contact is taken the other way round. Refused where the last test did not
 * see that, or is too long ago.
 */
export const proofTurn = defineAct<ProofTurn, { test: string }>({
  types: ["proof-turn"],
  path: "/api/proof-tests/{float}/turn",
  role: "operator",
  summary: "A float that hung dry and read wet in its test reads the other way round from now on",
  answer: "line",
  schema: z.object({ test: z.string().max(200) }).meta({ id: "ProofTurn" }),
  given: ({ body, params }) => ({ type: "proof-turn", float: params.float ?? "", test: body.test }),
  stored: { float: z.string(), test: z.string() },
  subject: (act) => act.float,
  known,
});
