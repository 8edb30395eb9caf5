import type { FastifyReply } from "fastify";
import { readSentence } from "../words/index.ts";
import { type ProblemCode, problems } from "./problems.ts";

/** A refusal with its stable code; becomes an RFC 9457 answer. */
export class Refusal extends Error {
  readonly code: ProblemCode;
  constructor(code: ProblemCode, detail: string) {
    super(detail);
    this.code = code;
  }
}

/** Answers with the problem (RFC 9457) of a code of the registry; `instance` names this one occurrence. */
export function answerProblem(
  reply: FastifyReply,
  code: ProblemCode,
  detail: string,
  instance?: string,
): FastifyReply {
  const { status, title } = problems[code];
  const said = readSentence(detail);
  return reply
    .code(status)
    .type("application/problem+json")
    .send({
      type: `/api/docs#${code}`,
      title,
      status,
      code,
      detail,
      ...(said ? { said } : {}),
      ...(instance ? { instance } : {}),
    });
}
