import { z } from "zod";
import { flag, flagReason, time } from "./words.ts";

/** A quantity as it is shown. A missing one is `{ value: null, flag: 9 }` and never left out. */
export const quantitySchema = z
  .object({
    value: z.number().nullable().meta({ description: "null when missing: then flag is 9" }),
    unit: z.string().meta({ description: "UCUM" }),
    flag,
    at: time.nullable(),
    reasons: z.array(flagReason),
    estimated: z.boolean().optional(),
    belowResolution: z.boolean().optional(),
    was: z.number().optional().meta({ description: "the last value, where what was last known is old" }),
  })
  .meta({ id: "Quantity" });

/** A quantity with its unit, flag, time and reasons. */
export type Quantity = z.infer<typeof quantitySchema>;
