import { z } from "zod";
import { said, time } from "./words.ts";

/** Whether water runs past a point now, and by which witness; litres since it began. */
export const runSchema = z.object({
  flowing: z.boolean().nullable().meta({ description: "null: not known" }),
  basis: z.enum(["flow-meter", "level", "inlet", "pump", "calling-float", "person", "none"]),
  since: time.nullable(),
  litres: z.number().nullable(),
  flow: z.number().nullable().meta({ description: "L/min" }),
  settled: z.boolean().nullable(),
});

/** One fill of a drum. `litres` is null where nothing tells them, `estimated` where they are put together. */
export const fillSchema = z
  .object({
    id: z.string(),
    drum: z.string(),
    startedAt: time,
    endedAt: time.nullable().meta({ description: "null while it runs" }),
    pausedSince: time.nullable().meta({ description: "inflow stopped and may come back within 2 min" }),
    litres: z.number().nullable(),
    estimated: z.boolean(),
    basis: runSchema.shape.basis,
    mean25: z
      .number()
      .nullable()
      .meta({ description: "volume-weighted mean of what came in, uS/cm at 25 °C" }),
    peak25: z.number().nullable().meta({ description: "greatest after first water, uS/cm at 25 °C" }),
    firstWater25: z.number().nullable().meta({ description: "mean of first water, uS/cm at 25 °C" }),
    end: z.enum(["float-tripped", "inflow-stopped", "stopped-by-person", "not-stopping"]).nullable(),
    tripConfirmed: z.boolean().nullable(),
    trippedAt: time.nullable(),
    tripAt: z.number().nullable().meta({ description: "litres in the drum when the stop float tripped" }),
    watched: z.number().meta({ description: "share of what came in that a valid reading saw, 0 to 1" }),
    notStopping: z
      .enum([
        "past-trip-volume",
        "goes-on-after-trip",
        "longer-than-learned",
        "more-than-it-holds",
        "begins-with-wet-float",
        "at-the-brim",
      ])
      .nullable(),
    reasons: z.array(z.string()),
    because: z.array(said).optional().meta({ description: "the reasons that have a code, where one has" }),
    revision: z.number().meta({ description: "0 as told live; more when derived again" }),
    withdrawn: z.literal(true).optional().meta({ description: "derived again, it no longer comes out" }),
  })
  .meta({ id: "Fill" });

/** Fills, newest first; withdrawn ones are among them, and say so. */
export const fillListSchema = z.object({ items: z.array(fillSchema), next: z.string().nullable() });
/** One fill of a drum. */
export type FillView = z.infer<typeof fillSchema>;
