import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, type Given, refuseUnless } from "./define-act.ts";
import { entered, withTime } from "./entered.ts";

/** What a stage uses up was changed. */
export interface MediumChange extends ActBase {
  readonly type: "medium-change";
  readonly stage: string;
  readonly medium?: string;
  readonly volumeL?: number;
  readonly capacityEq?: number;
  readonly cost?: number;
}

/**
 * `POST /api/media`: a stage got a new medium; litres of bed, its capacity in equivalents, and its cost in the site's
 * currency where they are known.
 */
export const mediumChange = defineAct({
  types: ["medium-change"],
  path: "/api/media",
  role: "operator",
  summary: "Changes of a stage's medium: enters one",
  list: "Changes of a stage's medium",
  answer: "entered",
  schema: z
    .object({
      ...entered,
      stage: z.string().max(63),
      medium: z.string().max(120).optional(),
      volumeL: z.number().positive().max(10_000).optional(),
      capacityEq: z.number().positive().max(1e6).optional(),
      cost: z.number().nonnegative().max(1e9).optional(),
    })
    .meta({ id: "MediumChange" }),
  given: ({ body }) => ({ type: "medium-change", ...withTime(body) }) as Given<MediumChange>,
  stored: {
    stage: z.string(),
    medium: z.string().optional(),
    volumeL: z.number().optional(),
    capacityEq: z.number().optional(),
    cost: z.number().optional(),
  },
  subject: (act: MediumChange) => act.stage,
  known: ({ stage }, line) => refuseUnless(line?.hasStage(stage) ?? false, "stage", stage),
});
