import { z } from "zod";
import { languages } from "../../words/index.ts";
import { time } from "./words.ts";

const takes = z.enum(["wake", "tell", "today"]);
const language = z.enum(languages);
const clock = z.string().meta({ description: '"22:00", the site\'s time' });

/** A destination of messages. */
export const destinationSchema = z
  .object({
    id: z.string(),
    title: z.string(),
    way: z.enum(["mail", "webhook", "mqtt", "sounder", "device"]),
    to: z.string().meta({ description: "an address, a host, a name; never a secret" }),
    person: z.string().nullable(),
    takes: takes.meta({ description: "the least urgent that is told here" }),
    turn: z.enum(["first", "second"]),
    quiet: z.object({ from: clock, to: clock }).nullable(),
    language: language.meta({ description: "of messages there" }),
    lastSentAt: time.nullable(),
    lastFailedAt: time.nullable(),
    error: z.string().nullable().meta({ description: "why the last try failed" }),
    failing: z.boolean(),
    waiting: z.number().meta({ description: "messages that are still to be delivered" }),
  })
  .meta({ id: "Destination" });

/** Who is told, when and by which way, and how the sign of life goes. */
export const notificationsSchema = z
  .object({
    destinations: z.array(destinationSchema),
    policy: z.object({
      wakeAgain: z.number().meta({ description: "min" }),
      secondAfter: z.number().meta({ description: "min" }),
      tellAgain: z.number().meta({ description: "min" }),
      today: clock,
      page: z.string().nullable().meta({ description: "where messages link" }),
    }),
    pushKey: z.string().meta({ description: "the gateway's public key for Web Push, base64url" }),
    life: z.object({
      asked: z.boolean().meta({ description: "the line file asks for a sign of life" }),
      lastAt: time.nullable(),
      error: z.string().nullable(),
    }),
  })
  .meta({ id: "Notifications" });

/** The last messages, newest first, with what became of each. */
export const messageListSchema = z.object({
  items: z.array(
    z
      .object({
        id: z.string(),
        destination: z.string(),
        title: z.string(),
        madeAt: time,
        state: z.enum(["waiting", "sent", "dropped"]),
        settledAt: time.nullable(),
        tries: z.number(),
        error: z.string().nullable(),
      })
      .meta({ id: "Message" }),
  ),
  next: z.null(),
});

/** Whether a test message was delivered, and why not. */
export const deliverySchema = z
  .object({ delivered: z.boolean(), why: z.string().nullable() })
  .meta({ id: "Delivery" });

const base64url = (max: number) =>
  z
    .string()
    .max(max)
    .regex(/^[\w-]+$/, "base64url");
const clockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'a time of day such as "22:00"');
/** A browser that wants messages: a subscription of the Push API (W3C), with what it is to be told. */
export const deviceSchema = z.object({
  endpoint: z.url({ protocol: /^https?$/ }).max(1000),
  keys: z.object({ p256dh: base64url(90), auth: base64url(30) }),
  title: z.string().min(1).max(80),
  takes,
  language: language.default("en"),
  quiet: z.object({ from: clockTime, to: clockTime }).nullable().default(null),
});
/** The token of a link in a message, by which somebody says that it was seen without signing in. */
export const seenTokenSchema = z.object({ token: base64url(60) });
/** What such a link is about, and whether it still stands. */
export const seenLinkSchema = z
  .object({ key: z.string(), occurrence: z.string(), stands: z.boolean() })
  .meta({ id: "SeenLink" });
/** When calls come again, min, and when the morning list goes out, the site's time. */
export const policySetSchema = z.object({
  wakeAgain: z.number().int().min(1).max(120),
  secondAfter: z.number().int().min(1).max(600),
  tellAgain: z.number().int().min(5).max(1440),
  today: clockTime,
});

/** A destination of messages. */
export type DestinationView = z.infer<typeof destinationSchema>;
/** Who is told, when and by which way. */
export type NotificationsView = z.infer<typeof notificationsSchema>;
/** A message and what became of it. */
export type MessageView = z.infer<typeof messageListSchema>["items"][number];
