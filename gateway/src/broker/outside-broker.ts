import { gatewayTopic, parseTopic, protocolVersion } from "@drumlin/firmware-protocol";
import { connect, type IClientOptions, type IPublishPacket, type MqttClient } from "mqtt";
import type { Journal } from "../journal/index.ts";
import type { Broker, OnRefused } from "./broker.ts";
import { LaterAnswers } from "./later-answers.ts";
import { Retries } from "./retries.ts";
import { presenceText, readSitePresence, requireFreeSite, unreachable } from "./site-presence.ts";

const longestPayload = 64 * 1024;
/** Names of nodes, and retained topics of an earlier run, that are remembered. */
const maxNodes = 2000;
const maxTopics = 2 * maxNodes;
const maxEarlier = 5000;
const stopPatienceMs = 1000;
/** A broker that takes a connection and says nothing is away. */
const connectWithinMs = 4000;

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

/** What works behind the client of somebody else's broker. */
export interface OutsideBrokerComponents {
  readonly journal: Pick<Journal, "appendFor">;
  readonly onRefused: OnRefused;
  readonly log: (message: string) => void;
  /** Another gateway took this site over: this one has nothing more to do here. */
  readonly onTakenOver: () => void;
  readonly room?: () => Promise<void> | null;
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

function connectOptions({ username, password, ca }: OutsideBrokerOptions): IClientOptions {
  return {
    protocolVersion: 4,
    // Its own words about each packet cost as much as reading the packet, also where nobody listens.
    log: () => {},
    connectTimeout: connectWithinMs,
    ...(username === undefined ? {} : { username }),
    ...(password === undefined ? {} : { password }),
    ...(ca === undefined ? {} : { ca }),
  };
}

/** One session on somebody else's broker. */
class OutsideBroker implements Broker {
  readonly port = 0;
  private readonly components: OutsideBrokerComponents;
  private readonly options: OutsideBrokerOptions;
  private readonly presence: string;
  /** What the gateway itself tells begins with it. */
  private readonly ownTopics: string;
  private readonly client: MqttClient;
  private readonly answers: LaterAnswers;
  private readonly retries = new Retries();
  private readonly nodes = new Set<string>();
  private readonly nodeOfTopic = new Map<string, string>();
  private readonly earlier = new Set<string>();
  private readonly listeners: (() => void)[] = [];
  private foreign: Set<string>;
  private isKnown = false;
  private isStopping = false;
  private isTakenOver = false;

  constructor(components: OutsideBrokerComponents, options: OutsideBrokerOptions) {
    this.components = components;
    this.options = options;
    const { url, site, instance } = options;
    this.presence = gatewayTopic(site, "presence");
    this.ownTopics = gatewayTopic(site, "");
    this.foreign = new Set(options.foreignTopics);
    this.client = connect(url, {
      ...connectOptions(options),
      clientId: `drumlin-${site}-${instance}`,
      clean: false,
      manualConnect: true,
      // Its own reconnect waits the same time always; ours waits longer each time, and never the same.
      reconnectPeriod: 0,
      will: {
        topic: this.presence,
        payload: Buffer.from(presenceText("offline", instance)),
        qos: 1,
        retain: true,
      },
    });
    this.answers = new LaterAnswers(this.client, components.onRefused);
    this.client.handleMessage = (packet, done) => this.hear(packet, done);
    this.client.on("connect", () => this.connected());
    this.client.on("error", (error) => components.log(`broker: ${error.message}`));
    this.client.on("close", () => this.closed());
  }

  /** Resolves once it is connected; rejects when the first try fails. */
  async start(): Promise<void> {
    const { client } = this;
    try {
      await new Promise<void>((resolve, reject) => {
        const lost = () => reject(unreachable(this.options.url));
        client.once("connect", () => {
          client.off("close", lost);
          resolve();
        });
        client.once("close", lost);
        client.connect();
      });
    } catch (error) {
      this.isStopping = true;
      this.retries.stop();
      client.end(true);
      throw error;
    }
  }

  private connected(): void {
    this.retries.succeeded();
    if (this.isKnown) this.components.log("broker: found again");
    this.isKnown = true;
    this.sayOnline();
    // Asked for again at each connection: a session that the broker kept may be of another line.
    this.subscribe();
    for (const listener of this.listeners) listener();
  }

  private closed(): void {
    if (this.isStopping) return;
    if (this.isKnown && this.retries.isFirst) this.components.log("broker: lost");
    this.retries.later(() => this.client.reconnect());
  }

  private hear(packet: IPublishPacket, done: (error?: Error) => void): void {
    const { topic, payload, retain, qos } = packet;
    if (topic.startsWith(this.ownTopics)) {
      if (topic === this.presence) this.hearPresence(payload.toString());
      // Its own words come back; retained ones that it has not said are an earlier run's.
      if (retain && payload.length > 0 && this.earlier.size < maxEarlier) this.earlier.add(topic);
      done();
      return;
    }
    // What a broker kept of another protocol has no time: it must not come up as new.
    const isOld = retain === true && this.foreign.has(topic);
    const answer = this.answers.begin(packet);
    const refusal = isOld ? null : this.refusalOf(topic, payload.length);
    if (refusal) this.components.onRefused(...refusal);
    if (isOld || refusal) answer.stored();
    else
      this.components.journal.appendFor(answer, {
        kind: "message",
        topic,
        payload: typeof payload === "string" ? Buffer.from(payload) : payload,
      });
    const next = () => done(qos === 1 ? later : undefined);
    const behind = this.components.room?.() ?? null;
    if (this.answers.hasRoom() && !behind) next();
    else
      void this.answers
        .untilThereIsRoom()
        .then(() => behind)
        .then(next);
  }

  /** Why a pack can't be taken; null when it can. */
  private refusalOf(topic: string, bytes: number): Parameters<OnRefused> | null {
    const node = this.nodeOf(topic);
    if (!this.foreign.has(topic) && node === null) return ["topic-not-yours", null, topic.slice(0, 200)];
    return bytes > longestPayload ? ["payload-too-long", node, `${bytes} bytes`] : null;
  }

  /** The node of a topic of this site; null where it is another topic. */
  private nodeOf(topic: string): string | null {
    const known = this.nodeOfTopic.get(topic);
    if (known !== undefined) return known;
    const read = parseTopic(topic);
    if (!read.ok || read.site !== this.options.site) return null;
    if (this.nodeOfTopic.size < maxTopics) this.nodeOfTopic.set(topic, read.node);
    if (this.nodes.size < maxNodes) this.nodes.add(read.node);
    return read.node;
  }

  /** Another instance that says it is online took over; one that says it went leaves the site to this one. */
  private hearPresence(text: string): void {
    const said = readSitePresence(text);
    if (said === null || said.instance === this.options.instance || this.isStopping) return;
    if (said.state === "online") {
      this.isTakenOver = true;
      this.components.onTakenOver();
    } else this.sayOnline();
  }

  private sayOnline(): void {
    const online = presenceText("online", this.options.instance);
    this.client.publish(this.presence, online, { qos: 1, retain: true });
  }

  private subscribe(): void {
    const { site } = this.options;
    const topics = [
      `drumlin/${protocolVersion}/${site}/+/readings`,
      `drumlin/${protocolVersion}/${site}/+/presence`,
      gatewayTopic(site, "#"),
      ...this.foreign,
    ];
    this.client.subscribe(topics, { qos: 1 }, (error) => {
      if (error) this.components.log(`broker: could not subscribe: ${error.message}`);
    });
  }

  tell(topic: string, payload: string): void {
    if (this.client.connected) this.client.publish(topic, payload, { qos: 1, retain: true });
  }
  say(topic: string, payload: string): Promise<boolean> {
    // Not kept for later: what is said of now is not to come up when the broker is back.
    if (!this.client.connected) return Promise.resolve(false);
    return new Promise((resolve) =>
      this.client.publish(topic, payload, { qos: 1, retain: false }, (error) => resolve(!error)),
    );
  }
  toldBefore(): readonly string[] {
    return [...this.earlier];
  }
  onConnected(listener: () => void): void {
    this.listeners.push(listener);
  }
  useForeign(topics: readonly string[]): void {
    const gone = [...this.foreign].filter((topic) => !topics.includes(topic));
    this.foreign = new Set(topics);
    if (!this.client.connected) return;
    if (gone.length > 0) this.client.unsubscribe(gone);
    this.subscribe();
  }
  isConnected(): boolean {
    return this.client.connected;
  }
  connectedNodes(): readonly string[] {
    return [...this.nodes];
  }
  dropRevoked(): void {}
  renew(): void {}

  async stop(): Promise<void> {
    if (this.isStopping) return;
    this.isStopping = true;
    this.retries.stop();
    this.answers.stop();
    await soon(this.answers.last);
    if (this.client.connected && !this.isTakenOver) {
      const offline = presenceText("offline", this.options.instance);
      await soon(this.client.publishAsync(this.presence, offline, { qos: 1, retain: true }));
    }
    if (this.client.connected) await soon(this.client.endAsync(false));
    // Whatever hangs, or is about to connect, is let go: its socket and timers would keep the process from ending.
    this.client.end(true);
    this.client.stream?.destroy();
  }
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
  const { url, site, instance } = options;
  if (!options.takeOver)
    await requireFreeSite(
      url,
      { ...connectOptions(options), clientId: `drumlin-${site}-${instance}-asks` },
      { topic: gatewayTopic(site, "presence"), instance },
    );
  const broker = new OutsideBroker(components, options);
  await broker.start();
  return broker;
}
