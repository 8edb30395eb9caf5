import { z } from "zod";
import { said } from "./words.ts";

/** An error as RFC 9457 has it; `code` is stable and stands in the one registry of codes. */
export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.number(),
    code: z.string(),
    detail: z.string(),
    said: said.optional().meta({ description: "the detail, where it has a code of its own" }),
    instance: z.string().optional().meta({ description: "of an error that stands in the gateway's log" }),
  })
  .meta({ id: "Problem", description: "RFC 9457" });

/** An error as RFC 9457 has it. */
export type Problem = z.infer<typeof problemSchema>;
