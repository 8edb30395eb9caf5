import { z } from "zod";
import { time } from "./words.ts";

/** The past being derived anew: how far it is, and what waits. */
export const derivationSchema = z
  .object({
    running: z
      .object({ from: time, to: time, percent: z.number().meta({ description: "0 to 99" }) })
      .nullable()
      .meta({ description: "null while none runs" }),
    waiting: z
      .number()
      .meta({ description: "derivations that were asked for and are not in force, this one too" }),
    failure: z.string().nullable().meta({ description: "why the last one failed; it is tried again" }),
  })
  .meta({ id: "Derivation" });

/** How far a derivation is. */
export type DerivationView = z.infer<typeof derivationSchema>;
