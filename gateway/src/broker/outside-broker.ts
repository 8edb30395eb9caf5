import { Socket } from "node:net";
import { gatewayTopic, protocolVersion } from "@drumlin/firmware-protocol";
import { connect, type MqttClient } from "mqtt";
import { askBroker } from "./asked-broker.ts";
import { AskingNodes } from "./asking-nodes.ts";
import type { Asked, Broker } from "./broker.ts";
import { brokerFault, unreachable } from "./broker-fault.ts";
import { putLaneBefore } from "./client-lane.ts";
import { askingName, clientName, connectOptions } from "./client-options.ts";
import { beginRun, type Run } from "./copied-folder.ts";
import { LaterAnswers } from "./later-answers.ts";
import { OutsideIntake } from "./outside-intake.ts";
import type { OutsideBrokerComponents, OutsideBrokerOptions } from "./outside-options.ts";
import { OutsideTrouble, type Refusing } from "./outside-trouble.ts";
import { OwnWords } from "./own-words.ts";
import { PutOut } from "./put-out.ts";
import { Retries } from "./retries.ts";
import { presenceText, readSitePresence, requireFreeSite } from "./site-presence.ts";
import { soon } from "./soon.ts";

/** A connection that is dead without saying so leaves every node silent: it is noticed before that is told of them all. */
const usualKeepAliveSeconds = 30;
const copyWorks = "a gateway with a copy of this data folder works at this site";

/** One session on somebody else's broker. */
class OutsideBroker implements Broker {
  readonly port = 0;
  private readonly components: OutsideBrokerComponents;
  private readonly options: OutsideBrokerOptions;
  private readonly presence: string;
  private readonly client: MqttClient;
  private readonly answers: LaterAnswers;
  private readonly retries: Retries;
  private readonly outside: OutsideTrouble;
  private readonly putOut: PutOut;
  private readonly words: OwnWords;
  private readonly asking: AskingNodes;
  private readonly intake: OutsideIntake;
  private readonly listeners: (() => void)[] = [];
  private isStopping = false;
  private isTakenOver = false;

  constructor(components: OutsideBrokerComponents, options: OutsideBrokerOptions, me: Run) {
    this.components = components;
    this.options = options;
    this.retries = components.retries ?? new Retries();
    const { url, site, instance } = options;
    const name = clientName(site, instance);
    this.presence = gatewayTopic(site, "presence");
    this.outside = new OutsideTrouble(url, components.log);
    const asking = connectOptions(options, askingName(site, me));
    const { log, steadyMs } = components;
    this.putOut = new PutOut({ url, asking, presence: this.presence, me, name, log, steadyMs });
    this.client = connect(url, {
      ...connectOptions(options, name),
      clean: false,
      keepalive: options.keepAliveSeconds ?? usualKeepAliveSeconds,
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
    // A name of its own again: under the same one two questions would put each other out.
    const telling = connectOptions(options, `${askingName(site, me)}-5`);
    this.words = new OwnWords({
      client: this.client,
      outside: this.outside,
      ask: (kept) => askBroker(url, telling, kept),
      steadyMs,
      onRoom: () => this.tellAnew(),
    });
    this.asking = new AskingNodes({ client: this.client, steadyMs, log });
    this.answers = new LaterAnswers(this.client, components.onRefused);
    this.intake = new OutsideIntake(
      {
        journal: components.journal,
        onRefused: components.onRefused,
        answers: this.answers,
        room: () => components.room?.() ?? null,
        onOwnWord: (...word) => this.words.back(...word),
        onPresence: (text, isNow) => this.hearPresence(text, isNow),
      },
      site,
      options.foreignTopics,
    );
    this.client.handleMessage = (packet, done) => this.intake.hear(packet, done);
    this.putLane();
    this.client.on("connect", () => this.connected());
    this.client.on("error", (error) => this.failed(error));
    this.client.on("close", () => this.closed());
  }

  /** Each connection of MQTT.js gets a lane of its own. */
  private putLane(): void {
    const building = this.client as unknown as {
      streamBuilder: (client: MqttClient) => MqttClient["stream"];
    };
    const { streamBuilder } = building;
    building.streamBuilder = (client) => {
      const connection = streamBuilder(client);
      // PUBACKs are small and few, and more packs come only after them: they must not wait for the ones before to arrive.
      if (connection instanceof Socket) connection.setNoDelay(true);
      const isInForce = () => client.connected && client.stream === connection;
      const lane = this.intake.lane(isInForce, (why) => {
        this.components.log(`broker: ${why}`);
        connection.destroy();
      });
      putLaneBefore(connection, lane, () => this.intake.room());
      return connection;
    };
  }

  /** What MQTT.js can't read leaves it in the middle of something: only a new connection begins at a frame again. */
  private failed(error: Error): void {
    this.outside.failed(error);
    this.client.stream?.destroy();
  }

  /** Resolves once it is connected; rejects when the first try fails. */
  async start(): Promise<void> {
    const { client } = this;
    try {
      await new Promise<void>((resolve, reject) => {
        const { url } = this.options;
        const lost = () => reject(unreachable(url));
        const failed = (error: Error) => reject(new Error(brokerFault(url, error)));
        client.once("connect", () => {
          client.off("close", lost);
          client.off("error", failed);
          resolve();
        });
        client.once("error", failed);
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
    this.retries.opened();
    this.putOut.opened();
    this.outside.opened();
    this.words.opened();
    this.sayOnline();
    // Asked for again at each connection: a session that the broker kept may be of another line.
    this.subscribe();
    this.tellAnew();
  }

  private tellAnew(): void {
    for (const listener of this.listeners) listener();
  }

  private closed(): void {
    if (this.isStopping) return;
    this.outside.closed();
    this.words.closed();
    this.asking.closed();
    const isPutOut = this.putOut.closed();
    this.retries.later(() => void this.comeAgain(isPutOut));
  }

  private async comeAgain(isPutOut: boolean): Promise<void> {
    await this.words.beforeNext();
    const isFree = !isPutOut || (await this.putOut.mayComeAgain());
    if (this.isStopping) return;
    if (isFree) this.client.reconnect();
    else this.takenOver(copyWorks);
  }

  private takenOver(why: string): void {
    this.isTakenOver = true;
    this.components.onTakenOver(why);
  }

  /** Another instance that says it is online took over; one that says it went leaves the site to this one. */
  private hearPresence(text: string, isNow: boolean): void {
    const said = readSitePresence(text);
    if (said === null || this.isStopping) return;
    if (said.instance === this.options.instance) {
      if (isNow) this.hearCopy(text);
      return;
    }
    if (said.state === "online") this.takenOver("another gateway took this site over");
    else this.sayOnline();
  }

  private hearCopy(text: string): void {
    const heard = this.putOut.heard(text);
    if (!heard) return;
    this.client.publish(this.presence, heard.answer);
    if (heard.isItsSite) this.takenOver(copyWorks);
  }

  private sayOnline(): void {
    const online = presenceText("online", this.options.instance);
    this.words.tell(this.presence, online);
  }

  private subscribe(): void {
    const { site } = this.options;
    const topics = [
      `drumlin/${protocolVersion}/${site}/+/readings`,
      `drumlin/${protocolVersion}/${site}/+/presence`,
      gatewayTopic(site, "#"),
      ...this.intake.foreign,
    ];
    this.client.subscribe(topics, { qos: 1 }, (error) => this.outside.subscribed(topics, error));
    // QoS 0: an answer tells nothing after a while. Rules that forbid it are no trouble: most nodes are asked nothing.
    this.client.subscribe(`drumlin/${protocolVersion}/${site}/+/response`, { qos: 0 }, () => {});
  }

  tell(topic: string, payload: string): void {
    if (this.client.connected) this.words.tell(topic, payload);
  }
  say(topic: string, payload: string): Promise<boolean> {
    // Not kept for later: what is said of now is not to come up when the broker is back.
    if (!this.client.connected) return Promise.resolve(false);
    return this.words.publish(topic, payload, false);
  }
  ask(topic: string, payload: string): Asked {
    return this.asking.ask(topic, payload);
  }
  toldBefore(): readonly string[] {
    return this.intake.earlier;
  }
  onConnected(listener: () => void): void {
    this.listeners.push(listener);
  }
  useForeign(topics: readonly string[]): void {
    const gone = [...this.intake.foreign].filter((topic) => !topics.includes(topic));
    this.intake.foreign = new Set(topics);
    if (!this.client.connected) return;
    if (gone.length > 0) this.client.unsubscribe(gone);
    this.subscribe();
  }
  isConnected(): boolean {
    return this.client.connected;
  }
  trouble(): string | null {
    return this.outside.text;
  }
  refuses(): Refusing | null {
    return this.outside.refuses;
  }
  connectedNodes(): readonly string[] {
    return this.intake.nodes;
  }
  dropRevoked(): void {}
  renew(): void {}

  async stop(): Promise<void> {
    if (this.isStopping) return;
    this.isStopping = true;
    this.retries.stop();
    this.answers.stop();
    this.words.stop();
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
  const { url, site, instance, startedAtMs = 0, takeOver = false } = options;
  const me = beginRun(instance, startedAtMs, takeOver);
  if (!takeOver)
    await requireFreeSite(url, connectOptions(options, askingName(site, me)), {
      presence: gatewayTopic(site, "presence"),
      me,
      steadyMs: components.steadyMs,
    });
  const broker = new OutsideBroker(components, options, me);
  await broker.start();
  return broker;
}
