import { gatewayTopic, parseTopic, protocolVersion } from "@drumlin/firmware-protocol";
import { connect, type IClientOptions, type IPublishPacket, type MqttClient } from "mqtt";
import type { Journal } from "../journal/index.ts";
import type { Broker } from "./broker.ts";
import type { BrokerRefusalCode } from "./refusals.ts";

const longestPayload = 64 * 1024;
/** Packs whose commit may be under way; the broker holds the rest back. */
const mostPending = 1000;
/** Names of nodes, and retained topics of an earlier run, that are remembered. */
const mostNodes = 2000;
const mostEarlier = 5000;
const firstRetryMs = 500;
const mostRetryMs = 30_000;
const stopPatienceMs = 3000;
const presenceWaitMs = 600;

/** What a gateway needs to work on a broker that is not its own. */
export interface OutsideBrokerOptions {
  readonly url: string;
  readonly site: string;
  /** Identity of the data folder: two gateways on one site are told apart by it. */
  readonly instance: string;
  readonly username?: string | undefined;
  readonly password?: string | undefined;
  /** Certificate authority of the broker, PEM. */
  readonly ca?: string | undefined;
  /** Start although another gateway's presence is online at this site. */
  readonly takeOver?: boolean;
  /** Topics of other protocols that the line maps. */
  readonly foreignTopics: readonly string[];
}

export interface OutsideBrokerComponents {
  readonly journal: Pick<Journal, "append">;
  readonly onRefused: (code: BrokerRefusalCode, node: string | null, detail: string) => void;
  readonly log: (message: string) => void;
  /** Another gateway took this site over: this one has nothing more to do here. */
  readonly onTakenOver: () => void;
  readonly room?: () => Promise<void> | null;
}

/** Another gateway works at this site. */
export class SiteTaken extends Error {
  readonly code = "site-taken";
}

interface Acknowledging {
  _sendPacket(packet: { cmd: "puback"; messageId: number }, done: () => void): void;
}

/** What MQTT.js takes as "no answer now": it sends no PUBACK by itself and goes on with the next packet. */
const later = new Error("acknowledged later");

/** A broker that hangs must not keep the gateway from stopping. */
async function soon(work: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const patience = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, stopPatienceMs);
  });
  await Promise.race([work.catch(() => {}), patience]);
  clearTimeout(timer);
}

/** Rejects with SiteTaken when the retained presence of another instance at this site is online. */
async function whoIsThere(client: MqttClient, topic: string, instance: string): Promise<void> {
  const payload = await new Promise<string>((resolve, reject) => {
    const timer = setTimeout(() => resolve(""), presenceWaitMs);
    client.on("message", (from, bytes) => {
      if (from !== topic) return;
      clearTimeout(timer);
      resolve(bytes.toString());
    });
    client.subscribeAsync(topic, { qos: 1 }).catch(reject);
  });
  if (payload === "") return;
  let other: { state?: unknown; instance?: unknown };
  try {
    other = JSON.parse(payload);
  } catch {
    return;
  }
  if (other.state === "online" && other.instance !== instance)
    throw new SiteTaken(
      `Another gateway (${String(other.instance).slice(0, 60)}) is online at this site. Stop it, or start with --take-over.`,
    );
}

/**
 * Works on a broker of somebody else: a persistent session whose packs are acknowledged, in order, only once the journal
 * has them on disk. What the broker itself loses shows as gaps in the nodes' counts. Rejects with SiteTaken, or when the
 * broker can't be reached at the start; later it tries again for ever.
 */
export async function createOutsideBroker(
  components: OutsideBrokerComponents,
  options: OutsideBrokerOptions,
): Promise<Broker> {
  const { journal, onRefused, log, onTakenOver, room = () => null } = components;
  const { url, site, instance } = options;
  const presence = gatewayTopic(site, "presence");
  const common: IClientOptions = {
    protocolVersion: 4,
    ...(options.username === undefined ? {} : { username: options.username }),
    ...(options.password === undefined ? {} : { password: options.password }),
    ...(options.ca === undefined ? {} : { ca: options.ca }),
  };
  let foreign = new Set(options.foreignTopics);
  const connected: (() => void)[] = [];
  const nodes = new Set<string>();
  const earlier = new Set<string>();
  let pending = 0;
  let lastAnswer: Promise<void> = Promise.resolve();
  let wake: (() => void) | null = null;
  let stopping = false;
  let takenOver = false;
  let retryMs = firstRetryMs;

  if (!options.takeOver) {
    const asking = connect(url, {
      ...common,
      clientId: `drumlin-${site}-${instance}-asks`,
      clean: true,
      reconnectPeriod: 0,
    });
    try {
      await new Promise<void>((resolve, reject) => {
        asking.once("connect", () => resolve());
        asking.once("error", reject);
        asking.once("close", () => reject(new Error(`The broker at ${new URL(url).host} can't be reached.`)));
      });
      await whoIsThere(asking, presence, instance);
    } finally {
      await asking.endAsync(true);
    }
  }

  const client = connect(url, {
    ...common,
    clientId: `drumlin-${site}-${instance}`,
    clean: false,
    manualConnect: true,
    // Its own reconnect waits the same time always; ours waits longer each time, and never the same.
    reconnectPeriod: 0,
    will: {
      topic: presence,
      payload: Buffer.from(JSON.stringify({ state: "offline", instance })),
      qos: 1,
      retain: true,
    },
  });

  function taken(packet: IPublishPacket): Promise<unknown> | null {
    const payload = typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
    const topic = parseTopic(packet.topic);
    const node = topic.ok ? topic.node : null;
    if (!foreign.has(packet.topic) && (!topic.ok || topic.site !== site)) {
      onRefused("topic-not-yours", node, packet.topic.slice(0, 200));
      return null;
    }
    if (payload.length > longestPayload) {
      onRefused("payload-too-long", node, `${payload.length} bytes`);
      return null;
    }
    if (node && nodes.size < mostNodes) nodes.add(node);
    return journal.append({ kind: "message", topic: packet.topic, payload });
  }

  /** One PUBACK after the other, each once its pack is on disk; a pack that could not be stored gets none, and comes again. */
  function answerLater(packet: IPublishPacket, written: Promise<unknown> | null): void {
    pending += 1;
    const connection = client.stream;
    const before = lastAnswer;
    lastAnswer = Promise.resolve(written).then(
      async () => {
        await before;
        pending -= 1;
        // An answer belongs to the connection on which the pack came.
        if (packet.qos === 1 && client.connected && client.stream === connection)
          (client as unknown as Acknowledging)._sendPacket(
            { cmd: "puback", messageId: packet.messageId as number },
            () => {},
          );
        wake?.();
      },
      async (error: unknown) => {
        await before;
        pending -= 1;
        onRefused("journal-not-writing", null, error instanceof Error ? error.message : String(error));
        wake?.();
        // Without an answer the broker brings the pack again, but only on a new connection.
        if (client.stream === connection) connection.destroy();
      },
    );
  }

  async function untilThereIsRoom(): Promise<void> {
    while (pending >= mostPending && !stopping)
      await new Promise<void>((resolve) => {
        wake = resolve;
      });
    await room();
  }

  /** Another instance that says it is online took over; one that says it went leaves the site to this one. */
  function hearPresence(text: string): void {
    let said: { state?: unknown; instance?: unknown };
    try {
      said = JSON.parse(text);
    } catch {
      return;
    }
    if (said.instance === instance || stopping) return;
    if (said.state === "online") {
      takenOver = true;
      onTakenOver();
    } else sayOnline();
  }

  function sayOnline(): void {
    client.publish(presence, JSON.stringify({ state: "online", instance }), { qos: 1, retain: true });
  }

  client.handleMessage = (packet, done) => {
    if (packet.topic.startsWith(gatewayTopic(site, ""))) {
      if (packet.topic === presence) hearPresence(packet.payload.toString());
      // Its own words come back; retained ones that it has not said are an earlier run's.
      if (packet.retain && packet.payload.length > 0 && earlier.size < mostEarlier) earlier.add(packet.topic);
      done();
      return;
    }
    // What a broker kept of another protocol has no time: it must not come up as new.
    const isOld = packet.retain && foreign.has(packet.topic);
    answerLater(packet, isOld ? null : taken(packet));
    if (pending < mostPending && !room()) done(packet.qos === 1 ? later : undefined);
    else void untilThereIsRoom().then(() => done(packet.qos === 1 ? later : undefined));
  };

  function tryAgain(): void {
    if (stopping) return;
    const waitMs = retryMs * (0.5 + Math.random());
    retryMs = Math.min(mostRetryMs, retryMs * 2);
    setTimeout(() => {
      if (!stopping) client.reconnect();
    }, waitMs);
  }

  function subscribe(): void {
    const topics = [
      `drumlin/${protocolVersion}/${site}/+/readings`,
      `drumlin/${protocolVersion}/${site}/+/presence`,
      gatewayTopic(site, "#"),
      ...foreign,
    ];
    client.subscribe(topics, { qos: 1 }, (error) => {
      if (error) log(`broker: could not subscribe: ${error.message}`);
    });
  }

  let known = false;
  client.on("connect", () => {
    retryMs = firstRetryMs;
    if (known) log("broker: found again");
    known = true;
    sayOnline();
    // Asked for again at each connection: a session that the broker kept may be of another line.
    subscribe();
    for (const listener of connected) listener();
  });
  client.on("error", (error) => log(`broker: ${error.message}`));
  client.on("close", () => {
    if (!stopping && known && retryMs === firstRetryMs) log("broker: lost");
    tryAgain();
  });

  await new Promise<void>((resolve, reject) => {
    const lost = () => reject(new Error(`The broker at ${new URL(url).host} can't be reached.`));
    client.once("connect", () => {
      client.off("close", lost);
      resolve();
    });
    client.once("close", lost);
    client.connect();
  }).catch(async (error: unknown) => {
    stopping = true;
    await client.endAsync(true);
    throw error;
  });

  return {
    port: 0,
    tell(topic, payload) {
      if (client.connected) client.publish(topic, payload, { qos: 1, retain: true });
    },
    toldBefore: () => [...earlier],
    onConnected: (listener) => connected.push(listener),
    useForeign(topics) {
      const gone = [...foreign].filter((topic) => !topics.includes(topic));
      foreign = new Set(topics);
      if (!client.connected) return;
      if (gone.length > 0) client.unsubscribe(gone);
      subscribe();
    },
    isConnected: () => client.connected,
    connectedNodes: () => [...nodes],
    dropRevoked() {},
    renew() {},
    async stop() {
      if (stopping) return;
      stopping = true;
      await soon(lastAnswer);
      if (client.connected && !takenOver)
        await soon(
          client.publishAsync(presence, JSON.stringify({ state: "offline", instance }), {
            qos: 1,
            retain: true,
          }),
        );
      await soon(client.endAsync(false));
      client.end(true);
    },
  };
}
