import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, type Given } from "./define-act.ts";
import { entered, withTime } from "./entered.ts";

/** One point (offset or cell factor) or two points; values in the channel's quantity unit. */
export interface Calibration extends ActBase {
  readonly type: "calibration";
  readonly channel: string;
  readonly points: readonly {
    readonly read: number;
    readonly true: number;
    readonly temperatureC?: number;
  }[];
}

const points = z.array(z.object({ read: z.number(), true: z.number(), temperatureC: z.number().optional() }));

/**
 * `POST /api/calibrations`: one or two points of what the probe said and what is true. Valid from `validFrom`, else
 * from now; one for the past starts a derivation. Refused for a channel that nobody knows.
 */
export const calibration = defineAct({
  types: ["calibration"],
  path: "/api/calibrations",
  role: "operator",
  summary: "Calibrations of channels: enters one",
  list: "Calibrations of channels",
  answer: "entered",
  schema: z
    .object({
      ...entered,
      channel: z.string().max(200),
      points: points
        .min(1)
        .max(2)
        .meta({ description: "what the probe said and what is true, in the channel's own unit" }),
    })
    .meta({ id: "Calibration" }),
  given: ({ body }) => ({ type: "calibration", ...withTime(body) }) as Given<Calibration>,
  stored: { channel: z.string(), points },
  // Whether the line has the channel is said by the stage that calibrates it: it knows those that nobody assigned, too.
  subject: (act: Calibration) => act.channel,
});
