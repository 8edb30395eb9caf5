import { z } from "zod";
import { languages } from "../words/index.ts";

const name = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]{0,62}$/, "write a name of small letters, digits and hyphens, 63 at most");
/** Minutes of the day follow from it. */
const clock = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'write a time of day such as "22:00"');
const duration = z
  .string()
  .regex(/^\d{1,4} ?(s|min|h|d)$/, 'write a duration such as "5 min", "1 h" or "1 d"');
/** One line of text: nothing that could begin a second header. */
const oneLine = (max: number) =>
  z
    .string()
    .min(1)
    .max(max)
    .regex(/^[^\p{Cc}\u2028\u2029]+$/u, "write it on one line");
const address = z.email("write an e-mail address such as mara@example.org").max(254);
const webAddress = z
  .url({ protocol: /^https?$/, error: "write an address that begins with https://" })
  .max(2000);

/** Headers that say where a request goes and where it ends (RFC 9110 §7.2, §7.6.1, §8.6; RFC 9112 §6.1), and our own. */
const ofConnection: ReadonlySet<string> = new Set([
  "host",
  "content-length",
  "transfer-encoding",
  "connection",
  "keep-alive",
  "proxy-connection",
  "te",
  "trailer",
  "upgrade",
  "expect",
  "drumlin-signature",
]);

const webhook = z.strictObject({
  url: webAddress,
  form: z.enum(["json", "text"]).default("json"),
  /** Of the plain form: `{title}`, `{text}`, `{attention}`, `{priority}`, `{link}`, and `{secret:NAME}` in headers. */
  body: z.string().max(2000).optional(),
  headers: z
    .record(z.string().regex(/^[A-Za-z0-9-]{1,60}$/, "write a header's name"), oneLine(500))
    .refine((all) => Object.keys(all).length <= 20, "more than 20 headers are too many")
    .refine(
      (all) => Object.keys(all).every((header) => !ofConnection.has(header.toLowerCase())),
      `${[...ofConnection].join(", ")} are set by the gateway`,
    )
    .optional(),
  priority: z.strictObject({ wake: oneLine(40), tell: oneLine(40), today: oneLine(40) }).optional(),
  allow_private: z.boolean().default(false),
});

const destination = z
  .strictObject({
    title: oneLine(80).optional(),
    person: oneLine(100).optional(),
    takes: z.enum(["wake", "tell", "today"]).default("tell"),
    turn: z.enum(["first", "second"]).default("first"),
    quiet: z.strictObject({ from: clock, to: clock }).optional(),
    language: z.enum(languages).optional(),
    mail: address.optional(),
    webhook: z.union([webAddress, webhook]).optional(),
    mqtt: z.literal("calls").optional(),
    sounder: name.optional(),
  })
  .refine(
    ({ mail, webhook: hook, mqtt, sounder }) =>
      [mail, hook, mqtt, sounder].filter((way) => way !== undefined).length === 1,
    "name one way: mail, webhook, mqtt or sounder",
  );

/** Who is told what, by which way, and when: `notify` of the line file. Secrets never stand in it. */
export const notifySchema = z.strictObject({
  page: webAddress.optional(),
  language: z.enum(languages).default("en"),
  wake: z.strictObject({ again: duration.optional(), second_after: duration.optional() }).optional(),
  tell: z.strictObject({ again: duration.optional() }).optional(),
  today: clock.optional(),
  mail: z
    .strictObject({
      server: oneLine(253).regex(/^[A-Za-z0-9.:-]+$/, "write the name of the mail server"),
      port: z.number().int().min(1).max(65_535).optional(),
      security: z.enum(["starttls", "tls", "none"]).default("starttls"),
      user: oneLine(200).optional(),
      from: address,
    })
    .optional(),
  push_hosts: z
    .array(z.string().regex(/^[a-z0-9]([a-z0-9.-]{0,250}[a-z0-9])?$/, "write the name of a host"))
    .max(20)
    .default([]),
  to: z
    .record(name, destination)
    .refine((all) => Object.keys(all).length <= 50, "more than 50 are too many")
    .refine(
      (all) => Object.keys(all).every((id) => !/^devices?(-|$)/.test(id)),
      "device and devices are what pages call people's own devices: take another name",
    )
    .default({}),
  heartbeat: z
    .strictObject({
      get: webAddress.optional(),
      mqtt: z.boolean().default(false),
      every: duration.optional(),
      allow_private: z.boolean().default(false),
    })
    .optional(),
});

/** Heartbeats that have to come: `expects` of the line file. */
export const expectsSchema = z
  .record(name, z.strictObject({ title: oneLine(80).optional(), every: duration }))
  .refine((all) => Object.keys(all).length <= 50, "more than 50 are too many")
  .default({});

/** `notify` as it stands in the file. */
export type NotifyFile = z.infer<typeof notifySchema>;
/** `expects` as it stands in the file. */
export type ExpectsFile = z.infer<typeof expectsSchema>;
