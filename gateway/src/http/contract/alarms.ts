import { z } from "zod";
import { alarmChangeWhy, alarmState, notJudged, time } from "./words.ts";

/** One occurrence of an alarm as it stands now. `key` is `condition:subject`; acts name the occurrence too. */
export const alarmSchema = z
  .object({
    key: z.string(),
    occurrence: z.string(),
    condition: z.string(),
    subject: z.string(),
    attention: z.enum(["wake", "tell", "today", "record"]),
    priority: z.enum(["critical", "high", "medium", "low"]),
    state: alarmState,
    /** Key of the alarm that brought it about and stands; null: it stands for itself. */
    under: z.string().nullable(),
    judged: z.object({ now: z.boolean(), because: notJudged.nullable(), since: time }),
    raisedAt: time.nullable(),
    clearedAt: time.nullable(),
    acknowledgedAt: time.nullable(),
    acknowledgedBy: z.string().nullable(),
    shelvedUntil: time.nullable(),
    value: z.number().nullable(),
    /** The value when it was raised; null where that is not known. */
    raisedValue: z.number().nullable(),
    limit: z.number().nullable(),
    unit: z.string(),
    text: z.string(),
    response: z.string().meta({ description: "what to do first; once it is over, what is left to look at" }),
  })
  .meta({ id: "Alarm" });

/** A change of an alarm, by itself or by a person; kept for ever. */
export const alarmChangeSchema = z
  .object({
    id: z.string(),
    at: time,
    from: alarmState,
    to: alarmState,
    why: alarmChangeWhy,
    by: z.string().nullable(),
    annunciated: z.boolean(),
    alarm: alarmSchema,
  })
  .meta({ id: "AlarmChange" });

/** Alarms as they stand now. */
export const alarmListSchema = z.object({ items: z.array(alarmSchema), next: z.string().nullable() });
/** Changes of alarms, newest first; `next` is handed back as `after`. */
export const alarmJournalSchema = z.object({
  items: z.array(alarmChangeSchema),
  next: z.string().nullable(),
});
const perDay = z.number().meta({ description: "calls a day" });
/** How often the alarms called in a stretch of time, how many needed somebody, and how soon they were seen. */
export const alarmFiguresSchema = z
  .object({
    from: time,
    to: time,
    calls: z.number(),
    callsPerDay: perDay,
    needed: z.number().meta({ description: "seen by a person before they were over by themselves" }),
    conditions: z.array(z.object({ condition: z.string(), calls: z.number(), callsPerDay: perDay })),
    stale: z.array(z.string()).meta({ description: "keys of alarms that stand longer than 24 h" }),
    chattering: z
      .array(z.string())
      .meta({ description: "keys that were raised 3 times or more within 10 min" }),
    seenWithin10Min: z.number().nullable().meta({ description: "share of the calls, 0 to 1" }),
    medianUntilSeen: z.number().nullable().meta({ description: "s" }),
    sentence: z.string(),
  })
  .meta({ id: "AlarmFigures" });

/** What is silent now: shelved, out of service, or by work. */
export const silenceListSchema = z.object({
  items: z.array(
    z
      .object({
        key: z.string(),
        occurrence: z.string(),
        state: alarmState,
        until: time.nullable().meta({ description: "null: until somebody ends it" }),
        since: time.nullable(),
        by: z.string().nullable(),
        reason: z.string().nullable(),
      })
      .meta({ id: "Silence" }),
  ),
  next: z.null(),
});
/** How often the alarms called. */
export type AlarmFiguresView = z.infer<typeof alarmFiguresSchema>;
/** One alarm that is silent, since when, by whom, and until when. */
export type SilenceView = z.infer<typeof silenceListSchema>["items"][number];
/** One occurrence of an alarm. */
export type AlarmView = z.infer<typeof alarmSchema>;
/** A change of an alarm. */
export type AlarmChangeView = z.infer<typeof alarmChangeSchema>;
