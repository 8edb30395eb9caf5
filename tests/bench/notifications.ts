// From a threshold crossed to a message accepted; a thousand alarms in a second; what a week of the demo's house tells people.
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { createDemoLine, createPipeline, startGateway } from "@drumlin/gateway/app";
import type { AlarmView } from "@drumlin/gateway/contract";
import { readLine } from "@drumlin/gateway/line";
import {
  Dispatcher,
  messageWords,
  migrations,
  Outbox,
  type OutboxMessage,
  type Recipient,
  siteMoment,
  titleOfDue,
} from "@drumlin/gateway/notifications";
import { saltmarshHouseYaml } from "@drumlin/gateway/simulator";
import { connectAsync } from "mqtt";
import { eventually, newSite } from "../acceptance/gateway-process.ts";
import { mailServer, ownCertificate, pushService } from "../acceptance/notifications/outside-world.ts";
import { figure } from "./figures.ts";

const mails = 20;
const devices = 10;
const rounds = 3;
const dayMs = 86_400_000;

function percentiles(name: string, delays: readonly number[], about: string): void {
  const sorted = [...delays].sort((a, b) => a - b);
  const at = (share: number) =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
  figure(`${name}P50Ms`, at(0.5), "ms", `${about}, ${sorted.length} messages`);
  figure(`${name}P99Ms`, at(0.99), "ms", "the same");
}

/** A real gateway, a mail server with STARTTLS, a push service with TLS: floors get wet, one after the other. */
async function untilAccepted(): Promise<void> {
  const tls = ownCertificate();
  const secret = "bench";
  const [mail, push] = [await mailServer(tls, secret), await pushService(tls)];
  const floors = Array.from({ length: rounds }, (_, index) => `f${index}`);
  const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
floors: { ${floors.map((id) => `${id}: press/${id}`).join(", ")} }
notify:
  mail: { server: 127.0.0.1, port: ${mail.port}, user: drumlin, from: drumlin@example.org }
  to: { ${Array.from({ length: mails }, (_, index) => `m${index}: { mail: m${index}@example.org, takes: wake }`).join(", ")} }
`;
  const site = await newSite(["press"], yaml);
  const gateway = await startGateway({
    data: site.data,
    lineYaml: yaml,
    http: { host: "127.0.0.1", port: 0 },
    mqtt: { host: "127.0.0.1", port: 0 },
    signedIn: { kind: "person", name: "bench", role: "operator" },
    environment: { DRUMLIN_SECRET_SMTP_PASSWORD: secret },
    houseCa: tls.cert,
    pushInside: true,
    log: () => {},
  });
  const api = `http://127.0.0.1:${gateway.httpPort}/api`;
  for (let index = 0; index < devices; index += 1) {
    const { endpoint, keys } = push.subscription;
    const body = JSON.stringify({ endpoint: `${endpoint}${index}`, keys, title: `d${index}`, takes: "wake" });
    await fetch(`${api}/notifications/devices`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body,
    });
  }
  const press = await connectAsync(`mqtt://127.0.0.1:${gateway.mqttPort}`, {
    username: "press",
    password: site.secrets.press ?? "",
  });
  const [byMail, byPush]: [number[], number[]] = [[], []];
  const say = (wet: number) =>
    press.publishAsync(
      "drumlin/1/saltmarsh-house/press/readings",
      JSON.stringify(floors.map((n, index) => ({ n, vb: index < wet }))),
      { qos: 1 },
    );
  for (let warm = 0; warm < 12; warm += 1) {
    await say(0);
    await new Promise((resolve) => setTimeout(resolve, 1000));
  }
  for (let round = 1; round <= rounds; round += 1) {
    const [mailed, pushed] = [mail.got.length, push.got.length];
    await eventually(
      async () => {
        await say(round);
        return [mail.got.length - mailed, push.got.length - pushed];
      },
      ([m = 0, p = 0]) => m >= mails && p >= devices,
    );
    const { items } = (await (await fetch(`${api}/alarms`)).json()) as { items: readonly AlarmView[] };
    const raisedMs = Date.parse(items.find(({ subject }) => subject === floors[round - 1])?.raisedAt ?? "");
    byMail.push(...mail.got.slice(mailed).map(({ atMs }) => atMs - raisedMs));
    byPush.push(...push.got.slice(pushed).map(({ atMs }) => atMs - raisedMs));
    // What comes within 20 s of a message is gathered: this is about what does not wait.
    await new Promise((resolve) => setTimeout(resolve, 21_000));
  }
  percentiles(
    "alarmToSmtp",
    byMail,
    `raised to accepted by SMTP with STARTTLS, ${mails} destinations at once`,
  );
  percentiles(
    "alarmToPush",
    byPush,
    `raised to accepted by a push service with TLS, ${devices} devices at once`,
  );
  await press.endAsync();
  await gateway.stop();
  await Promise.all([mail.close(), push.close()]);
}

const policy = {
  wake: { againMs: 300_000, secondAfterMs: 600_000 },
  tell: { againMs: 3_600_000 },
  todayAtMinute: 450,
  gatherMs: 20_000,
};
const person: Recipient = {
  id: "mara",
  who: "mara",
  takes: "today",
  turn: "first",
  quiet: null,
  gathers: true,
  sinceMs: 0,
};

function openOutbox(): Outbox {
  const database = new DatabaseSync(join(mkdtempSync(join(tmpdir(), "drumlin-outbox-")), "outbox.sqlite"));
  database.exec("PRAGMA journal_mode = WAL");
  for (const migration of migrations) database.exec(migration as string);
  return new Outbox(database);
}

/** A thousand alarms within a second, to three people. */
async function aThousand(model: AlarmChange): Promise<void> {
  const [outbox, count] = [openOutbox(), 1000];
  let nowMs = model.atMs;
  const changes: AlarmChange[] = [];
  const sent: OutboxMessage[] = [];
  const dispatcher = new Dispatcher({
    outbox,
    policy: () => policy,
    recipients: () => ["mara", "jonas", "house"].map((id) => ({ ...person, id })),
    changesAfter: (seq, limit) => changes.filter(({ id }) => Number.parseInt(id, 10) > seq).slice(0, limit),
    moment: () => ({ nowMs, minute: 720, date: "2026-11-25" }),
    titleOf: () => "",
    send: async (message) => {
      sent.push(message);
      return { delivered: true };
    },
    random: () => 0.5,
    log: (text) => console.log(text),
  });
  globalThis.gc?.();
  const before = process.memoryUsage().heapUsed;
  const begun = performance.now();
  for (let index = 0; index < count; index += 1) {
    const key = `floor-wet:f${index}`;
    const occurrence = `${index + 1}/${key}/1`;
    // What is for today would only come with the next morning list.
    const alarm = { ...model.alarm, attention: "wake" as const, key, subject: `f${index}`, occurrence };
    changes.push({ ...model, id: `${index + 1}/${key}/1`, atMs: nowMs, annunciated: true, alarm });
    nowMs += 1;
    if (index % 100 === 99) dispatcher.turn();
  }
  nowMs += 21_000;
  for (let turn = 0; turn < 4; turn += 1) {
    await dispatcher.idle();
    dispatcher.turn();
  }
  await dispatcher.idle();
  const ms = performance.now() - begun;
  const told = new Set(
    sent.flatMap(({ destination, entries }) => entries.map(({ call }) => `${destination} ${call}`)),
  );
  figure("burstMessages", sent.length, "1", `messages of ${count} alarms in a second to 3 people`);
  figure("burstLost", 3 * count - told.size, "1", "calls that nobody was told of");
  figure("burstMs", ms, "ms", "to take, decide and hand over all of them, on disk");
  figure("burstHeapMB", (process.memoryUsage().heapUsed - before) / 1e6, "MB", "of the heap after it");
}

/** Every message that one person gets in the last week of the demo's two weeks, who marks each as seen after 4 min. */
async function aWeek(): Promise<AlarmChange> {
  const yaml = saltmarshHouseYaml({ membrane: false });
  const read = readLine(yaml);
  if (!read.ok) throw new Error("the demo's line can't be read");
  const endMs = Date.UTC(2026, 10, 25, 9);
  const demo = createDemoLine({ site: "saltmarsh-house", endMs });
  const messages: { topic: string; payload: Uint8Array; receivedAt: number }[] = [];
  await demo.append(async (topic, payload, receivedAt) => messages.push({ topic, payload, receivedAt }));
  const changes: AlarmChange[] = [];
  const pipeline = createPipeline();
  const take = (outcome: { readonly kind: string }) => {
    if (outcome.kind === "alarm") changes.push(outcome as AlarmChange);
  };
  pipeline.push({ kind: "line", seq: 1, receivedAt: demo.startMs - 1, yaml }, take);
  const outbox = openOutbox();
  let nowMs = demo.startMs;
  const told: { readonly atMs: number; readonly lines: readonly string[] }[] = [];
  const zone = read.line.timezone;
  const dispatcher = new Dispatcher({
    outbox,
    policy: () => policy,
    recipients: () => [person],
    changesAfter: (seq, limit) => {
      const at = changes.findIndex(({ id }) => Number.parseInt(id, 10) > seq);
      return at < 0 ? [] : changes.slice(at, at + limit);
    },
    moment: () => ({ nowMs, ...siteMoment(nowMs, zone) }),
    titleOf: (message) => titleOfDue(message, read.line, "en"),
    send: async ({ entries, madeMs, list }) => {
      const calls = entries.flatMap(({ call: id, step }) => {
        const call = outbox.call(id);
        return call ? [{ call, step }] : [];
      });
      const words = messageWords(
        calls,
        { madeMs, list: list !== null },
        {
          line: read.line,
          zone,
          nowMs,
          language: "en",
          calls: outbox.calls(),
          page: null,
          seenLink: () => null,
        },
      );
      const whys = words.alarms.map(
        ({ headline, facts, news, stake }) =>
          `${headline} · ${facts}${news ? ` · ${news}` : ""}${stake ? ` — ${stake}` : ""}`,
      );
      told.push({ atMs: nowMs, lines: [words.subject, ...whys] });
      return { delivered: true };
    },
    random: () => 0.5,
    log: (text) => console.log(text),
  });
  let seq = 1;
  const toSee: { readonly atMs: number; readonly key: string; readonly occurrence: string }[] = [];
  const see = () => {
    for (let next = toSee[0]; next && next.atMs <= nowMs; next = toSee[0]) {
      toSee.shift();
      seq += 1;
      const { key, occurrence } = next;
      const act = { id: `see-${seq}`, by: "mara", type: "acknowledge" as const, key, occurrence };
      pipeline.push({ kind: "act", seq, receivedAt: nowMs, act }, take);
    }
  };
  for (const message of messages) {
    for (; nowMs + 60_000 <= message.receivedAt; nowMs += 60_000) {
      const count = told.length;
      dispatcher.turn();
      await dispatcher.idle();
      if (told.length > count)
        for (const { key, occurrence, seenAtMs } of outbox.calls())
          if (seenAtMs === null && !toSee.some((one) => one.occurrence === occurrence))
            toSee.push({ atMs: nowMs + 240_000, key, occurrence });
      see();
    }
    seq += 1;
    pipeline.push({ kind: "message", seq, ...message }, take);
  }
  const week = told.filter(({ atMs }) => atMs >= endMs - 7 * dayMs);
  for (const { atMs, lines } of week) {
    console.log(`${new Date(atMs).toISOString().slice(0, 16)} ${lines[0]}`);
    for (const line of lines.slice(1)) console.log(`    ${line}`);
  }
  figure(
    "weekMessages",
    week.length,
    "1",
    "messages of a week of the demo's house to one person who marks each as seen after 4 min",
  );
  const [model] = changes;
  if (!model) throw new Error("nothing was told in two weeks");
  return model;
}

export async function notifications(): Promise<void> {
  await aThousand(await aWeek());
  await untilAccepted();
}
