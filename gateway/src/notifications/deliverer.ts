import { randomUUID } from "node:crypto";
import { encodeRequest } from "@drumlin/firmware-protocol";
import { type Line, type NotifyDestination, nameAtNode, nodeOf } from "../line/index.ts";
import type { Language } from "../words/index.ts";
import { type Call, isOpen } from "./call.ts";
import type { Device, Devices } from "./devices.ts";
import type { Outbox, OutboxMessage } from "./outbox.ts";
import type { Delivery } from "./retry.ts";
import { hostOfMail } from "./secret-hosts.ts";
import { SecretError, type Secrets } from "./secrets.ts";
import type { SeenLinks } from "./seen-links.ts";
import { createMail } from "./ways/mail.ts";
import { type PushNeeds, sendPush } from "./ways/push.ts";
import { isPushService } from "./ways/push-hosts.ts";
import { sendWebhook } from "./ways/webhook.ts";
import { asHtml } from "./words/as-html.ts";
import { asShortText, asText } from "./words/as-text.ts";
import { type MessageWords, messageWords } from "./words/message-words.ts";

/** What the ways need of the rest of the gateway. */
export interface DelivererNeeds {
  readonly line: () => Line | null;
  readonly outbox: Outbox;
  readonly devices: Devices;
  readonly secrets: Secrets;
  readonly links: SeenLinks;
  /** The calendar's time of an engine time; now, both. */
  readonly at: (engineMs: number) => number;
  readonly engineMs: () => number;
  /** Last night in one line, for the morning list. */
  readonly night: (language: Language) => string | null;
  /** Says something on the broker, not retained; false where it was not taken. */
  readonly say: (topic: string, payload: string) => Promise<boolean>;
  readonly topics: { readonly calls: string; readonly request: (node: string) => string };
  /** A node's start and whether it is there; null: never heard. */
  readonly node: (id: string) => { readonly boot: number | null; readonly isOnline: boolean } | null;
  /** A small picture of the last hours, PNG; null where there is nothing to draw. */
  readonly chart: (call: Call) => Promise<Buffer | null>;
  readonly push: Omit<PushNeeds, "subject">;
  /** A certificate authority of the own house for mail and webhooks, PEM. */
  readonly ca?: string;
}

const fail = (why: string, forGood = false): Delivery => ({ delivered: false, forGood, why });
const withinMs = 10_000;

/** Resolves with what `work` gives, or with `late` after 10 s. */
async function inTime<Given>(work: Promise<Given>, late: Given): Promise<Given> {
  const { promise, resolve } = Promise.withResolvers<Given>();
  const timer = setTimeout(() => resolve(late), withinMs);
  return Promise.race([work, promise]).finally(() => clearTimeout(timer));
}

/** Puts messages into words when they are sent, and sends them by their destination's way. */
export class Deliverer {
  private readonly needs: DelivererNeeds;

  constructor(needs: DelivererNeeds) {
    this.needs = needs;
  }

  /** What became of a try; a way's own failure is never thrown. */
  async send(message: OutboxMessage): Promise<Delivery> {
    const device = this.needs.devices.all().find(({ id }) => id === message.destination);
    const destination = this.needs.line()?.notify.destinations.find(({ id }) => id === message.destination);
    const calls = message.entries.flatMap(({ call: id, step }) => {
      const call = this.needs.outbox.call(id);
      return call ? [{ call: this.inCalendar(call), step }] : [];
    });
    if (calls.length === 0) return fail("What it was about is long over.", true);
    const { language = "en" } = device ?? destination ?? {};
    const who = device?.who ?? destination?.person ?? null;
    const words = this.wordsFor(message, calls, { who, language });
    if (device) return this.toDevice(device, message.id, words, calls[0]?.call.key ?? "");
    return destination ? this.toWay(destination, message, words) : fail("The line no longer names it.", true);
  }

  /** A message that only shows that the way works. */
  async test(id: string, words: MessageWords): Promise<Delivery> {
    const device = this.needs.devices.all().find((one) => one.id === id);
    if (device) return this.toDevice(device, randomUUID(), words, "test");
    const destination = this.needs.line()?.notify.destinations.find((one) => one.id === id);
    if (!destination) return fail("There is no such destination.", true);
    return this.toWay(destination, { id: randomUUID(), isTest: true }, words);
  }

  private inCalendar(call: Call): Call {
    const at = (ms: number | null) => (ms === null ? null : this.needs.at(ms));
    return {
      ...call,
      calledAtMs: this.needs.at(call.calledAtMs),
      endedAtMs: at(call.endedAtMs),
      seenAtMs: at(call.seenAtMs),
      silencedAtMs: at(call.silencedAtMs),
    };
  }

  private wordsFor(
    message: OutboxMessage,
    calls: Parameters<typeof messageWords>[0],
    { who, language }: { readonly who: string | null; readonly language: Language },
  ): MessageWords {
    const { line, at, engineMs, outbox, links, night } = this.needs;
    const inForce = line();
    const page = inForce?.notify.page ?? null;
    const list = message.list !== null;
    return messageWords(
      calls,
      { madeMs: at(message.madeMs), list, night: list ? night(language) : null },
      {
        line: inForce,
        zone: inForce?.timezone ?? "UTC",
        nowMs: at(engineMs()),
        language,
        calls: outbox.calls(),
        page,
        seenLink({ key, occurrence }) {
          if (page === null || who === null) return null;
          return `${page}/#seen?token=${links.make({ who, key, occurrence }, engineMs())}`;
        },
      },
    );
  }

  private async toDevice(device: Device, id: string, words: MessageWords, tag: string): Promise<Delivery> {
    const { push, at, engineMs, line } = this.needs;
    const { mail, page } = line()?.notify ?? {};
    const subject = mail
      ? `mailto:${mail.from}`
      : page?.startsWith("https:")
        ? page
        : "mailto:nobody@drumlin.invalid";
    if (!isPushService(device.endpoint, line()?.notify.pushHosts ?? [], push.allowPrivate))
      return fail("The line no longer names its push service.", true);
    return sendPush(device, { id, words, tag, nowMs: at(engineMs()) }, { ...push, subject });
  }

  private async toWay(
    destination: NotifyDestination,
    message: OutboxMessage | { readonly id: string; readonly isTest: true },
    words: MessageWords,
  ): Promise<Delivery> {
    const { secrets, at, engineMs, ca } = this.needs;
    const { way, id } = destination;
    if (way.kind === "mail") return this.toMail(way.address, message, words);
    if (way.kind === "webhook")
      return sendWebhook(
        way.webhook,
        { id: message.id, destination: id, words, atMs: at(engineMs()) },
        { secrets, ...(ca === undefined ? {} : { ca }) },
      );
    if (way.kind === "mqtt") return this.toBroker(message.id, words);
    return this.toSounder(way.sounder, destination, message);
  }

  private async toMail(
    address: string,
    message: OutboxMessage | { readonly id: string },
    words: MessageWords,
  ): Promise<Delivery> {
    const { line, secrets, outbox, chart, ca } = this.needs;
    const server = line()?.notify.mail;
    if (!server) return fail("The line names no mail server.");
    const first = "entries" in message ? outbox.call(message.entries[0]?.call ?? "") : null;
    const png = first
      ? await inTime(
          chart(first).catch(() => null),
          null,
        )
      : null;
    try {
      const password = server.user === null ? null : secrets.getFor("smtp-password", hostOfMail(server));
      const mail = createMail({ server, password, ...(ca === undefined ? {} : { ca }) });
      const delivery = await mail.send({
        id: message.id,
        to: address,
        subject: words.subject,
        text: asText(words),
        html: asHtml(words, png ? "chart" : null),
        isUrgent: words.attention === "wake",
        chart: png ? { name: "chart", png } : null,
      });
      mail.close();
      return delivery;
    } catch (error) {
      if (error instanceof SecretError) return fail(error.message);
      throw error;
    }
  }

  private async toBroker(id: string, words: MessageWords): Promise<Delivery> {
    const { say, topics, at, engineMs } = this.needs;
    const { subject, attention, alarms, more } = words;
    const payload = JSON.stringify({
      id,
      at: new Date(at(engineMs())).toISOString(),
      attention,
      title: subject,
      text: asShortText(words),
      open: alarms.filter(({ todo }) => todo !== "").length + more,
    });
    const isTaken = await inTime(say(topics.calls, payload), false);
    return isTaken ? { delivered: true } : fail("The broker is away.");
  }

  /** Sounds while something that it is told of is not seen; else makes it quiet. */
  private async toSounder(
    sounder: string,
    { takes }: NotifyDestination,
    message: OutboxMessage | { readonly id: string; readonly isTest: true },
  ): Promise<Delivery> {
    const { line, node, say, topics, outbox } = this.needs;
    const found = line()?.sounders.find(({ id }) => id === sounder);
    if (!found) return fail("The line has no such sounder.", true);
    const [name, channel] = [nodeOf(found.channel), nameAtNode(found.channel)];
    const there = node(name);
    if (!there || there.boot === null || !there.isOnline) return fail(`Node ${name} is not there.`);
    const wanted: readonly string[] = takes === "wake" ? ["wake"] : ["wake", "tell"];
    const isTest = "isTest" in message;
    const isCalled = outbox
      .calls()
      .some((call) => isOpen(call) && !call.isConsequence && wanted.includes(call.attention));
    const what = isTest || isCalled ? "sound" : "quiet";
    const request = encodeRequest({
      id: message.id,
      boot: there.boot,
      request: what,
      channel,
      forS: isTest ? 2 : null,
    });
    const isTaken = await inTime(say(topics.request(name), request), false);
    return isTaken ? { delivered: true } : fail("The broker is away.");
  }
}
