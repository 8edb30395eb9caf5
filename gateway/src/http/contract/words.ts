import { z } from "zod";

/** A time with its offset. */
export const time = z.iso.datetime({ offset: true });
/** A quality flag of QARTOD (IOOS). */
export const flag = z
  .union([z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(9)])
  .meta({ description: "QARTOD: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing" });
/** Why a value is flagged. Closed: what is sent is checked against it where the program is built, and so are the page's words. */
export const flagReason = z.enum([
  "arrival-time",
  "over-range",
  "under-range",
  "open-circuit",
  "short-circuit",
  "power-on-value",
  "sensor-lost",
  "spike",
  "below-resolution",
  "unproven",
  "temperature-assumed",
  "temperature-borrowed",
  "temperature-lost",
  "temperature-disagrees",
  "outside-compensation-range",
  "at-pure-water-limit",
  "settling-after-boot",
  "unit-mismatch",
  "not-a-value",
  "old",
]);

/** A sentence by its code, so that whoever shows it can say it in another language. */
export const said = z
  .object({
    code: z.string(),
    values: z
      .record(z.string(), z.union([z.string(), z.number()]))
      .meta({ description: "what stands in it" }),
  })
  .meta({ id: "Said" });

/** Why a point or a condition is not judged now. */
export const notJudged = z.enum([
  "no-flow",
  "settling",
  "no-valid-reading",
  "flow-unknown",
  "water-runs",
  "just-started",
  "never-heard",
  "not-ready",
  "no-limit",
  "by-time",
]);

/** States of an alarm: ISA-18.2 / IEC 62682. */
export const alarmState = z.enum([
  "normal",
  "unacknowledged",
  "acknowledged",
  "returned-unacknowledged",
  "latched-unacknowledged",
  "latched-acknowledged",
  "shelved",
  "suppressed-by-design",
  "out-of-service",
]);

/** What happened to an alarm. */
export const alarmChangeWhy = z.enum([
  "raised",
  "raised-gross",
  "returned",
  "re-raised",
  "acknowledged",
  "seen-undone",
  "reset",
  "shelved",
  "unshelved",
  "shelf-ended",
  "suppressed",
  "unsuppressed",
  "out-of-service",
  "in-service",
  "attention-raised",
  "medium-changed",
  "withdrawn",
  "judged",
  "not-judged",
]);

/** Why a value is flagged; the page has a text for each, or is not built. */
export type FlagReasonWord = z.infer<typeof flagReason>;
/** Why something is not judged; the page has a text for each. */
export type NotJudgedWord = z.infer<typeof notJudged>;
/** A state of an alarm; the page has a text for each. */
export type AlarmStateWord = z.infer<typeof alarmState>;
/** What happened to an alarm; the page has a text for each. */
export type AlarmChangeWord = z.infer<typeof alarmChangeWhy>;
