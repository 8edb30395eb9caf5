import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

/** "I'm working on … for 30 min": suppresses by design what that stage or drum can cause. */
export interface WorkOn extends ActBase {
  readonly type: "work-on";
  readonly subject: { readonly kind: "stage" | "drum" | "floor"; readonly id: string };
  readonly untilMs: number;
}

const kind = z.enum(["stage", "drum", "floor"]);
/** Nobody mops for longer, and a floor is the last that tells of water, minutes. */
const maxMoppingMin = 30;

/**
 * `POST /api/work`: for 1 to 480 min, a floor for 30 at most. It silences what that stage, drum or floor can cause,
 * never another drum's stop.
 */
export const workOn = defineAct<WorkOn, { kind: WorkOn["subject"]["kind"]; id: string; minutes: number }>({
  types: ["work-on"],
  path: "/api/work",
  role: "operator",
  summary: "Somebody works on a stage or drum, or mops a floor: what that can cause is silent for the time",
  answer: "line",
  schema: z
    .object({ kind, id: z.string().max(63), minutes: z.number().min(1).max(480) })
    .refine((sent) => sent.kind !== "floor" || sent.minutes <= maxMoppingMin, {
      path: ["minutes"],
      message: `a floor's sensor is silent for ${maxMoppingMin} min at most`,
    })
    .meta({ id: "WorkOn" }),
  given: ({ body, nowMs }) => ({
    type: "work-on",
    subject: { kind: body.kind, id: body.id },
    untilMs: nowMs + body.minutes * 60_000,
  }),
  stored: { subject: z.object({ kind, id: z.string() }), untilMs: z.number() },
  subject: ({ subject }) => subject.id,
  known: ({ subject: { kind: what, id } }, line) => refuseUnless(line?.has(what, id) ?? false, what, id),
});
