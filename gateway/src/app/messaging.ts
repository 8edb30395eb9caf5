import type { DatabaseSync } from "node:sqlite";
import { getCACertificates } from "node:tls";
import { gatewayTopic, nodeTopic } from "@drumlin/firmware-protocol";
import type { Accounts } from "../accounts/index.ts";
import type { Broker } from "../broker/index.ts";
import type { Line } from "../line/index.ts";
import type { Logbook } from "../logbook/index.ts";
import {
  beatsOf,
  Deliverer,
  type Device,
  Dispatcher,
  devicesOf,
  Outbox,
  openSecrets,
  type Recipient,
  recipientOf,
  type Secrets,
  seenLinksOf,
  siteMoment,
  titleOfDue,
  type VapidKeys,
} from "../notifications/index.ts";
import { nodeCell } from "../readings/index.ts";
import type { SeriesStore } from "../series/index.ts";
import type { Language } from "../words/index.ts";
import { alarmSketch } from "./alarm-sketch.ts";
import type { ClockKeeper } from "./clock-keeper.ts";
import type { GatewayOptions } from "./gateway-options.ts";
import { changeTurned } from "./in-calendar.ts";
import { lastNightWords } from "./last-night-words.ts";
import { hadMessages, openKeys, openMessages } from "./messaging-files.ts";
import type { Pipeline } from "./pipeline.ts";

/** What comes within this time of a message to the same place goes into one message. */
const gatherMs = 20_000;

interface MessagingNeeds {
  readonly options: Pick<
    GatewayOptions,
    "data" | "log" | "pushInside" | "environment" | "houseCa" | "signedIn"
  >;
  readonly accounts: Pick<Accounts, "people">;
  readonly time: ClockKeeper;
  readonly pipeline: Pipeline;
  readonly series: SeriesStore;
  readonly logbook: Logbook;
  readonly broker: Broker;
}

/** Opens the file of messages; nothing that was called before the first start is told. */
function openFile(database: DatabaseSync, logbook: Logbook) {
  const outbox = new Outbox(database);
  if (outbox.cursor() === null) outbox.setCursor(logbook.lastAlarmSeq());
  return {
    outbox,
    devices: devicesOf(database),
    links: seenLinksOf(database),
    beats: beatsOf(database),
  };
}

type File = ReturnType<typeof openFile>;

/** The usual certificate authorities and the house's own, where it has one. */
export const authoritiesOf = ({ houseCa }: Pick<GatewayOptions, "houseCa">): { readonly ca?: string } =>
  houseCa === undefined ? {} : { ca: [...getCACertificates("default"), houseCa].join("\n") };

/** Drops devices of people who have no account any more; those who may not sign in are told nothing. */
function devicesOfPeople({ devices }: File, { options, accounts }: MessagingNeeds): readonly Device[] {
  // The demo has no accounts.
  if (options.signedIn) return devices.all();
  return devices.all().filter(({ id, who }) => {
    const person = accounts.people.find(who);
    if (!person) devices.drop(id);
    return person !== null && !person.isDisabled;
  });
}

function delivererOf(
  { options, time, pipeline, series, logbook, broker }: MessagingNeeds,
  file: File,
  secrets: Secrets,
  keys: VapidKeys,
) {
  const { clock, calendar } = time;
  const { site } = pipeline.line() as Line;
  const ca = authoritiesOf(options);
  const line = () => pipeline.line();
  const deliverer = new Deliverer({
    line,
    outbox: file.outbox,
    devices: file.devices,
    links: file.links,
    secrets,
    at: calendar.at,
    engineMs: () => Math.round(clock.engineMs()),
    night: (language) => lastNightWords(logbook, line(), { nowMs: clock.nowMs(), language }),
    say: (topic, payload) => broker.say(topic, payload),
    topics: { calls: gatewayTopic(site, "calls"), request: (node) => nodeTopic(site, node, "request") },
    node(id) {
      const node = pipeline.board.get(nodeCell, id);
      return node ? { boot: node.boot, isOnline: node.online === true } : null;
    },
    chart: (call) => alarmSketch(call, { series, line: line(), nowMs: clock.nowMs() }),
    push: { keys, allowPrivate: options.pushInside === true, ...ca },
    ...ca,
  });
  return { deliverer, publicKey: keys.publicKey };
}

/** Everybody who is told: the line's destinations, and the devices of people. */
function recipientsOf(needs: MessagingNeeds, file: File): readonly Recipient[] | null {
  const { time, pipeline } = needs;
  const { outbox } = file;
  const line = pipeline.line();
  if (!line) return null;
  const since = (id: string) => outbox.since(id, Math.round(time.clock.engineMs()));
  const held = devicesOfPeople(file, needs).map(
    ({ id, who, takes, quiet }): Recipient => ({
      id,
      who,
      takes,
      turn: "first",
      quiet,
      gathers: true,
      sinceMs: since(id),
    }),
  );
  return [...line.notify.destinations.map((one) => recipientOf(one, since(one.id))), ...held];
}

/** The outbox of a data folder, who follows the alarm journal for it, and the ways out. */
export function openMessaging(needs: MessagingNeeds) {
  const { options, time, pipeline, logbook } = needs;
  const { clock, calendar } = time;
  const faults: string[] = [];
  const tell = (text: string): void => {
    faults.push(text);
    options.log(`notifications: ${text}`);
  };
  const had = hadMessages(options.data);
  const nowMs = needs.time.clock.nowMs();
  const file = openFile(openMessages(options.data, nowMs, had, tell), logbook);
  const secrets = openSecrets(options.data, options.environment, () => pipeline.line());
  secrets.lookAtLine();
  const keys = openKeys(secrets, nowMs, had, tell);
  const { deliverer, publicKey } = delivererOf(needs, file, secrets, keys);
  const languageOf = (id: string): Language =>
    [...(pipeline.line()?.notify.destinations ?? []), ...file.devices.all()].find((one) => one.id === id)
      ?.language ?? "en";
  const dispatcher = new Dispatcher({
    outbox: file.outbox,
    policy: () => ({ ...(pipeline.line() as Line).notify, gatherMs }),
    recipients: () => recipientsOf(needs, file),
    changesAfter: (seq, limit) =>
      logbook.alarmChangesAfter(seq, limit).map((change) => changeTurned(change, calendar.engineOf)),
    moment: () => ({
      nowMs: Math.round(clock.engineMs()),
      ...siteMoment(clock.nowMs(), pipeline.line()?.timezone ?? "UTC"),
    }),
    titleOf: (message) => titleOfDue(message, pipeline.line(), languageOf(message.destination)),
    send: (message) => deliverer.send(message),
    random: Math.random,
    log: options.log,
  });
  return { ...file, deliverer, dispatcher, publicKey, secrets, faults };
}

/** Messages of a running gateway: outbox, ways, devices, signs of life. */
export type Messaging = ReturnType<typeof openMessaging>;
