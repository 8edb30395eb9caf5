import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

/** "I'm done": what the work silenced can ring again. */
export interface WorkDone extends ActBase {
  readonly type: "work-done";
  readonly subject: { readonly kind: "stage" | "drum" | "floor"; readonly id: string };
}

const kind = z.enum(["stage", "drum", "floor"]);

/** `POST /api/work-done`; refused where nobody works there. */
export const workDone = defineAct<WorkDone, { kind: "stage" | "drum" | "floor"; id: string }>({
  types: ["work-done"],
  path: "/api/work-done",
  role: "operator",
  summary: "Work on a stage or drum is over: what it silenced can ring again",
  answer: "line",
  schema: z.object({ kind, id: z.string().max(63) }).meta({ id: "WorkDone" }),
  given: ({ body }) => ({ type: "work-done", subject: { kind: body.kind, id: body.id } }),
  stored: { subject: z.object({ kind, id: z.string() }) },
  subject: ({ subject }) => subject.id,
  known: ({ subject: { kind: what, id } }, line) => refuseUnless(line?.has(what, id) ?? false, what, id),
});
