import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

const steps = ["salted", "mixing", "ready", "in-use", "heel", "adding-water"] as const;

/** A person brings a batch on by a step; that it was emptied is said by a release ("dumped"). */
export interface BatchStep extends ActBase {
  readonly type: "batch";
  readonly drum: string;
  readonly step: (typeof steps)[number];
  /** Of salt that went in. */
  readonly kg?: number;
  readonly lot?: string;
  /** Practical salinity that a person measured. */
  readonly salinity?: number;
}

const step = z.enum(steps);
const kg = z.number().positive().max(5000);
const lot = z.string().max(80);
const salinity = z.number().min(0).max(60);

interface BatchBody {
  readonly step: BatchStep["step"];
  readonly kg?: number | undefined;
  readonly lot?: string | undefined;
  readonly salinity?: number | undefined;
  readonly note?: string | undefined;
}

/**
 * `POST /api/drums/{id}/batch`; refused, with what to do first, where the batch can't take that step now. Salinity 0
 * to 60, salt up to 5,000 kg.
 */
export const batchStep = defineAct<BatchStep, BatchBody>({
  types: ["batch"],
  path: "/api/drums/{id}/batch",
  role: "operator",
  summary: "A batch of salt water goes on by a step: salt went in, it is mixed, ready, in use, used up",
  answer: "line",
  schema: z
    .object({
      step,
      kg: kg.optional().meta({ description: "of salt that went in, kg" }),
      lot: lot.optional().meta({ description: "lot of the salt" }),
      salinity: salinity.optional().meta({ description: "practical salinity that was measured by hand" }),
      note: z.string().max(500).optional(),
    })
    .meta({ id: "BatchStep" }),
  given: ({ body, params }) => ({
    type: "batch",
    drum: params.id ?? "",
    step: body.step,
    ...(body.kg === undefined ? {} : { kg: body.kg }),
    ...(body.lot ? { lot: body.lot } : {}),
    ...(body.salinity === undefined ? {} : { salinity: body.salinity }),
    ...(body.note ? { note: body.note } : {}),
  }),
  stored: { drum: z.string(), step, kg: kg.optional(), lot: lot.optional(), salinity: salinity.optional() },
  subject: ({ drum }) => drum,
  known: ({ drum }, line) => refuseUnless(line?.hasDrum(drum) ?? false, "drum", drum),
});
