import { z } from "zod";
import { alarmChangeWhy, alarmState, notJudged, time } from "./words.ts";

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
    limit: z.number().nullable(),
    unit: z.string(),
    text: z.string(),
    response: z.string(),
  })
  .meta({ id: "Alarm" });

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

export const alarmListSchema = z.object({ items: z.array(alarmSchema), next: z.string().nullable() });
export const alarmJournalSchema = z.object({
  items: z.array(alarmChangeSchema),
  next: z.string().nullable(),
});
export type AlarmView = z.infer<typeof alarmSchema>;
export type AlarmChangeView = z.infer<typeof alarmChangeSchema>;
