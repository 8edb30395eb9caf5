import { z } from "zod";

/** Every key of the line file, from the schema that reads it. */
export const lineReferenceSchema = z
  .object({
    sections: z.array(
      z.object({
        title: z.string(),
        keys: z.array(
          z.object({
            path: z
              .string()
              .meta({ description: "where it stands; * is a name, channel.x a setting of any channel" }),
            takes: z.string(),
            isNeeded: z.boolean(),
            what: z.string(),
            unit: z.string().nullable(),
            otherwise: z.string().nullable().meta({ description: "what holds where it is left out" }),
            example: z.string(),
          }),
        ),
      }),
    ),
  })
  .meta({ id: "LineReference" });

/** Every key of the line file. */
export type LineReference = z.infer<typeof lineReferenceSchema>;
