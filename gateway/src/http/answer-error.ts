import { randomUUID } from "node:crypto";
import type { FastifyReply, FastifyRequest } from "fastify";
import { AccountError } from "../accounts/index.ts";
import { type ProblemCode, problems } from "./problems.ts";
import { answerProblem, Refusal } from "./refusal.ts";

type Thrown = Error & { readonly code?: string; readonly statusCode?: number };

/** The refusal that an error stands for; null for one that nobody expected. */
function expected(error: Thrown): readonly [code: ProblemCode, detail: string] | null {
  if (error instanceof Refusal || error instanceof AccountError) return [error.code, error.message];
  if (error.code === "FST_ERR_CTP_BODY_TOO_LARGE") return ["body-too-large", error.message];
  if (error.code === "FST_ERR_CTP_INVALID_MEDIA_TYPE") return ["not-json", error.message];
  if (error.statusCode !== undefined && error.statusCode < 500) return ["body-not-understood", error.message];
  if (error.code !== undefined && Object.hasOwn(problems, error.code))
    return [error.code as ProblemCode, error.message];
  return null;
}

/** Answers what a route threw. An error that nobody expected goes to the log under an id, which the answer carries. */
export function answerError(
  error: Thrown,
  request: FastifyRequest,
  reply: FastifyReply,
  log: (message: string) => void,
): FastifyReply {
  const known = expected(error);
  if (known) {
    if (error instanceof AccountError && error.retryAfterS !== null)
      reply.header("retry-after", String(error.retryAfterS));
    return answerProblem(reply, ...known);
  }
  const id = randomUUID();
  const path = request.url.split("?")[0]?.slice(0, 200);
  log(`http: ${id} ${request.method} ${path}: ${error.stack ?? String(error)}`);
  return answerProblem(reply, "internal", `The gateway's log tells more under ${id}.`, `urn:uuid:${id}`);
}
