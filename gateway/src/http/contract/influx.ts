import { z } from "zod";
import { time } from "./words.ts";

/** How far InfluxDB follows, and what it refused; all empty where none is used. */
export const influxSchema = z
  .object({
    server: z.string().nullable().meta({ description: "address and database; null where none is used" }),
    failure: z
      .object({
        code: z.string(),
        title: z.string(),
        said: z.string().meta({ description: "what the server or the system said" }),
        todo: z.string(),
      })
      .nullable()
      .meta({ description: "why nothing is sent now" }),
    sent: z.number().meta({ description: "points since the start" }),
    waiting: z.object({
      batches: z.number(),
      stretches: z.number().meta({ description: "of a series and day, read from the store's blocks" }),
      since: time.nullable().meta({ description: "time of the oldest reading that was not sent yet" }),
      behindSeconds: z.number(),
    }),
    aside: z
      .array(
        z.object({
          code: z.string(),
          title: z.string(),
          todo: z.string(),
          measurement: z.string(),
          points: z.number(),
          from: time,
          to: time,
          example: z.string(),
          said: z.string(),
        }),
      )
      .meta({
        description: "points that the server refuses for what they are; they stay in the gateway's store",
      }),
  })
  .meta({ id: "InfluxDB" });

/** How far InfluxDB follows. */
export type InfluxView = z.infer<typeof influxSchema>;
