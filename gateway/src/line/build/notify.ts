import type { Language } from "../../words/index.ts";
import type { Expected, Notify, NotifyDestination, NotifyWay, WebhookSettings } from "../notify.ts";
import type { ExpectsFile, NotifyFile } from "../notify-schema.ts";
import { titleOf } from "./draft.ts";

const unitMs = { s: 1000, min: 60_000, h: 3_600_000, d: 86_400_000 } as const;

/** "5 min" in ms; the schema has seen to its form. */
function msOf(text: string): number {
  const [, count, unit] = /^(\d+) ?(s|min|h|d)$/.exec(text) as RegExpExecArray;
  return Number(count) * unitMs[unit as keyof typeof unitMs];
}

/** "07:30" as minute of the day. */
function minuteOf(text: string): number {
  const [hours, minutes] = text.split(":").map(Number) as [number, number];
  return hours * 60 + minutes;
}

const usualPorts = { starttls: 587, tls: 465, none: 25 } as const;
/** Words of a priority header where the file names none. */
const usualPriorities = { wake: "urgent", tell: "high", today: "default" } as const;

type DestinationFile = NotifyFile["to"][string];

function webhookOf(given: NonNullable<DestinationFile["webhook"]>): WebhookSettings {
  const whole = typeof given === "string" ? null : given;
  return {
    url: typeof given === "string" ? given : given.url,
    form: whole?.form ?? "json",
    body: whole?.body ?? null,
    headers: new Map(Object.entries(whole?.headers ?? {})),
    priority: whole?.priority ?? usualPriorities,
    allowPrivate: whole?.allow_private ?? false,
  };
}

function wayOf({ mail, webhook, sounder }: DestinationFile): NotifyWay {
  if (mail !== undefined) return { kind: "mail", address: mail };
  if (webhook !== undefined) return { kind: "webhook", webhook: webhookOf(webhook) };
  return sounder === undefined ? { kind: "mqtt" } : { kind: "sounder", sounder };
}

function destinationOf(id: string, given: DestinationFile, usual: Language): NotifyDestination {
  const { title, person, takes, turn, quiet, language = usual } = given;
  return {
    id,
    title: title ?? titleOf(id),
    person: person ?? null,
    takes,
    turn,
    quiet: quiet ? { fromMinute: minuteOf(quiet.from), toMinute: minuteOf(quiet.to) } : null,
    language,
    way: wayOf(given),
  };
}

/** Who is told what and when, with every default filled in; a line that names nobody tells nobody. */
export function notifyOf(file: NotifyFile | undefined): Notify {
  const {
    page,
    language = "en",
    wake,
    tell,
    today,
    mail,
    push_hosts: pushHosts = [],
    to = {},
    heartbeat,
  } = file ?? {};
  return {
    language,
    page: page?.replace(/\/+$/, "") ?? null,
    wake: { againMs: msOf(wake?.again ?? "5 min"), secondAfterMs: msOf(wake?.second_after ?? "10 min") },
    tell: { againMs: msOf(tell?.again ?? "1 h") },
    todayAtMinute: minuteOf(today ?? "07:30"),
    mail: mail ? { ...mail, port: mail.port ?? usualPorts[mail.security], user: mail.user ?? null } : null,
    pushHosts,
    destinations: Object.entries(to).map(([id, given]) => destinationOf(id, given, language)),
    heartbeat: heartbeat
      ? {
          get: heartbeat.get ?? null,
          mqtt: heartbeat.mqtt,
          everyMs: msOf(heartbeat.every ?? "1 min"),
          allowPrivate: heartbeat.allow_private,
        }
      : null,
  };
}

/** Heartbeats that have to come. */
export const expectsOf = (file: ExpectsFile): readonly Expected[] =>
  Object.entries(file).map(([id, { title, every }]) => ({
    id,
    title: title ?? titleOf(id),
    everyMs: msOf(every),
  }));
