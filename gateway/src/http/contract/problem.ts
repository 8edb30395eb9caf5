import { z } from "zod";

export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.number(),
    code: z.string(),
    detail: z.string(),
    instance: z.string().optional().meta({ description: "of an error that stands in the gateway's log" }),
  })
  .meta({ id: "Problem", description: "RFC 9457" });

export type Problem = z.infer<typeof problemSchema>;
