import { z } from "zod";
import { time } from "./words.ts";

const stageDrawn = z.object({
  id: z.string(),
  title: z.string(),
  kind: z.enum(["sediment", "carbon", "membrane", "resin", "other"]),
  from: z.string(),
  to: z.string(),
});
const drumDrawn = z.object({ id: z.string(), title: z.string(), fedBy: z.string() });

/** Usual lines to begin with, each as a drawing and as a line file. */
export const linePicturesSchema = z.object({
  items: z.array(
    z
      .object({
        id: z.string(),
        title: z.string(),
        words: z.string(),
        stages: z.array(stageDrawn),
        drums: z.array(drumDrawn),
        yaml: z.string().meta({ description: "the line file that it makes, every part explained" }),
      })
      .meta({ id: "LinePicture" }),
  ),
});

/** The line as the drawing page shows it: what stands where, what was heard and has no place yet. */
export const lineDrawingSchema = z
  .object({
    version: z.string().meta({ description: "of the line file: sent along with each change" }),
    yaml: z.string(),
    warnings: z.array(z.object({ line: z.number(), message: z.string(), instead: z.string() })),
    title: z.string(),
    disinfectant: z.enum(["unknown", "chlorine", "chloramine", "none"]),
    points: z.array(
      z.object({
        id: z.string(),
        title: z.string(),
        limit: z.number().nullable().meta({ description: "uS/cm at 25 °C; null: no limit stands here" }),
      }),
    ),
    stages: z.array(
      stageDrawn.extend({
        vessel: z.number().meta({ description: "L" }),
        typical: z
          .boolean()
          .meta({ description: "the vessel's litres are usual ones, nobody measured them" }),
      }),
    ),
    drums: z.array(
      drumDrawn.extend({
        volume: z.number().meta({ description: "L" }),
        control: z.enum(["automatic", "manual"]),
        holds: z.enum(["fresh", "salt"]),
      }),
    ),
    places: z.array(
      z.object({
        place: z.string(),
        of: z.object({ kind: z.enum(["point", "stage", "drum", "floor"]), id: z.string() }),
        role: z.string(),
        channel: z.string().nullable(),
      }),
    ),
    heard: z
      .array(
        z.object({
          channel: z.string(),
          value: z.number(),
          unit: z.string().nullable(),
          at: time,
          fits: z.array(z.string()).meta({ description: "places that what it says can stand at" }),
        }),
      )
      .meta({ description: "channels that were heard and have no place yet" }),
    mqtt: z.object({
      port: z.number().nullable().meta({ description: "null: the broker is somebody else's" }),
      tls: z.boolean(),
      broker: z.string().nullable(),
    }),
  })
  .meta({ id: "LineDrawing" });

/** Usual lines to begin with. */
export type LinePictures = z.infer<typeof linePicturesSchema>;
/** The line as the drawing page shows it. */
export type LineDrawing = z.infer<typeof lineDrawingSchema>;
