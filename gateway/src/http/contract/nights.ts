import { z } from "zod";
import { fillSchema } from "./fills.ts";
import { batchSchema } from "./line.ts";
import { alarmState, time } from "./words.ts";

const attention = z.enum(["wake", "tell", "today", "record"]);
const share = (description: string) => z.number().meta({ description });
const date = z.iso.date().meta({ description: "of its evening, in the site's zone" });

const drumNightSchema = z.object({
  drum: z.string(),
  litres: z.number().nullable().meta({ description: "what came in; null: not known" }),
  fills: z.number(),
  mean25: z.number().nullable().meta({ description: "volume-weighted mean of what came in, uS/cm at 25 °C" }),
  peak25: z.number().nullable().meta({ description: "greatest after first water, uS/cm at 25 °C" }),
  watched: z.number().nullable().meta({ description: "share of what came in that was seen, 0 to 1" }),
  drawn: z.number().meta({ description: "L, as far as a level saw it" }),
  words: z
    .array(
      z.object({ verdict: z.enum(["use", "hold", "unknown"]), since: time, reasons: z.array(z.string()) }),
    )
    .meta({ description: "the word that the night began with, then each change" }),
});

const silenced = z
  .object({ as: z.enum(["shelved", "out-of-service"]), until: time.nullable() })
  .nullable()
  .meta({ description: "how an alarm that is so was made silent; null: it was not" });

const nightAlarmSchema = z.object({
  key: z.string(),
  occurrence: z.string(),
  condition: z.string(),
  subject: z.string(),
  attention,
  text: z.string(),
  response: z.string(),
  raisedAt: time,
  raisedInNight: z.boolean(),
  endedAt: time.nullable(),
  seenAt: time.nullable(),
  seenBy: z.string().nullable(),
  value: z.number().nullable().meta({ description: "at its worst" }),
  limit: z.number().nullable(),
  unit: z.string(),
  state: alarmState.meta({ description: "that morning" }),
  stands: z.boolean(),
  silenced,
  under: z.string().nullable(),
});

/** One night, whole. */
export const nightSchema = z
  .object({
    date,
    timezone: z.string(),
    from: time,
    to: time,
    running: z.boolean(),
    watched: share("share of the night in which the gateway and every channel was heard, 0 to 1"),
    unwatchedSeconds: z.number().meta({ description: "so long of it (so far) something was not heard" }),
    unwatched: z.array(
      z.object({
        from: time,
        to: time.nullable().meta({ description: "null: it goes on" }),
        who: z.string().meta({ description: '"gateway", or a node' }),
        channels: z.array(z.string()),
        fills: z.array(z.string()).meta({ description: "that ran meanwhile" }),
      }),
    ),
    first: z
      .array(
        z.object({
          attention,
          subject: z.string().meta({ description: "empty: the whole" }),
          kind: z.enum(["alarm", "hold", "unknown", "trip", "unwatched"]),
          condition: z.string().nullable(),
          silenced,
          over: z.boolean().meta({ description: "an alarm that has ended, and waits to be seen or reset" }),
          text: z.string(),
          todo: z.string(),
        }),
      )
      .meta({ description: "what to do this morning, the most urgent first" }),
    litres: z.number().nullable(),
    fills: z.array(fillSchema),
    drums: z.array(drumNightSchema),
    floats: z.array(
      z.object({
        at: time,
        drum: z.string(),
        role: z.string(),
        wet: z.boolean(),
        litres: z.number().nullable(),
      }),
    ),
    batches: z
      .array(
        z.object({
          at: time,
          drum: z.string(),
          state: batchSchema.shape.state,
          salinity: z.number().nullable(),
          kg: z.number().nullable().meta({ description: "of salt that is in it, as far as it was entered" }),
        }),
      )
      .meta({ description: "each turn of a batch of salt water, oldest first" }),
    draws: z.array(z.object({ drum: z.string(), from: time, to: time, litres: z.number() })),
    alarms: z.array(nightAlarmSchema),
    nodes: z.array(
      z.object({
        node: z.string(),
        silentSeconds: z.number(),
        starts: z.number().meta({ description: "how often it started" }),
      }),
    ),
    acts: z.array(
      z.object({
        at: time,
        by: z.string(),
        button: z.string().nullable().meta({ description: "by which it was said; null: a person" }),
        what: z.string(),
        subject: z.string(),
        until: time.nullable().meta({ description: "of work that began: until when it is silent" }),
        note: z.string().nullable(),
      }),
    ),
  })
  .meta({ id: "Night" });

/** Nights, newest first, each in a line. */
export const nightListSchema = z.object({
  items: z.array(
    z
      .object({
        date,
        from: time,
        to: time,
        running: z.boolean(),
        watched: share("share of the night in which the gateway and every channel was heard, 0 to 1"),
        litres: z.number().nullable(),
        drums: z.array(drumNightSchema.pick({ drum: true, litres: true, mean25: true, peak25: true })),
        fills: z.number(),
        stoppedByFloat: z.number().meta({ description: "fills that a float ended" }),
        attention: attention
          .nullable()
          .meta({ description: "of the most urgent alarm that was raised in it; null: none" }),
        alarms: z.number().meta({ description: "raised in it, those for the record left out" }),
      })
      .meta({ id: "NightLine" }),
  ),
  next: z.string().nullable(),
});

/** One night, whole: `GET /api/nights/{date}`. */
export type NightView = z.infer<typeof nightSchema>;
/** A night in one line of the list. */
export type NightLine = z.infer<typeof nightListSchema>["items"][number];
