import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

/** A person answers for the drum's water. */
export interface ReleaseDrum extends ActBase {
  readonly type: "release";
  readonly drum: string;
  readonly reason: "hand-test" | "dumped" | "diluted" | "other";
  /** Of a hand test: the reference conductivity that it found, uS/cm at 25 °C; may be left out with a note. */
  readonly value25UsPerCm?: number;
}

const reason = z.enum(["hand-test", "dumped", "diluted", "other"]);

interface ReleaseBody {
  readonly reason: ReleaseDrum["reason"];
  readonly note?: string | undefined;
  readonly value25UsPerCm?: number | undefined;
}

/**
 * `POST /api/drums/{id}/release`: refused where the water may be used already, where a level contradicts "dumped",
 * and while salt water is not ready.
 */
export const releaseDrum = defineAct<ReleaseDrum, ReleaseBody>({
  types: ["release"],
  path: "/api/drums/{id}/release",
  role: "operator",
  summary: "A person answers for the drum's water: ends its hold",
  answer: "line",
  schema: z
    .object({
      reason,
      note: z.string().max(500).optional(),
      value25UsPerCm: z
        .number()
        .nonnegative()
        .max(200_000)
        .optional()
        .meta({ description: "of a hand test: what it found, uS/cm at 25 °C" }),
    })
    .meta({ id: "Release" }),
  given: ({ body, params }) => ({
    type: "release",
    drum: params.id ?? "",
    reason: body.reason,
    ...(body.note ? { note: body.note } : {}),
    ...(body.value25UsPerCm === undefined ? {} : { value25UsPerCm: body.value25UsPerCm }),
  }),
  stored: { drum: z.string(), reason, value25UsPerCm: z.number().optional() },
  subject: ({ drum }) => drum,
  known: ({ drum }, line) => refuseUnless(line?.hasDrum(drum) ?? false, "drum", drum),
});
