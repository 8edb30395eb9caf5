import type { MqttClient } from "mqtt";
import type { EntryWaiter } from "../journal/index.ts";
import type { OnRefused } from "./broker.ts";
import { pubacks } from "./pubacks.ts";

/** Packs whose commit may be under way; the broker holds the rest back. */
const maxPending = 1000;
/** So many answered packs may lie before those that wait. */
const maxAnswered = 512;

type Connection = MqttClient["stream"];

/** What of MQTT.js's client answers need. */
type Client = Pick<MqttClient, "stream" | "connected">;

/** A pack on its way to the disk. */
class Pack implements EntryWaiter {
  /** An answer belongs to the connection on which the pack came. */
  readonly connection: Connection;
  /** Null: it asks for no answer. */
  readonly messageId: number | null;
  isStored = false;
  /** Why it could not be stored: it gets no answer. */
  refusal: string | null = null;
  /** Told once it has its answer, or never gets one. */
  onOver: (() => void) | null = null;
  private readonly answers: LaterAnswers;

  constructor(answers: LaterAnswers, connection: Connection, messageId: number | null) {
    this.answers = answers;
    this.connection = connection;
    this.messageId = messageId;
  }

  stored(): void {
    this.isStored = true;
    this.answers.goOn();
  }

  refused({ message }: Error): void {
    this.refusal = message;
    this.answers.goOn();
  }
}

/**
 * PUBACKs to a broker of somebody else: one after the other, each once its pack is on disk; those of one commit go in one
 * piece. Written past MQTT.js, which would take one pack at a time, and without promises: they cost more than the journal.
 */
export class LaterAnswers {
  private readonly client: Client;
  private readonly onRefused: OnRefused;
  private readonly underWay: Pack[] = [];
  private answered = 0;
  private pending = 0;
  private acknowledged: number[] = [];
  private acknowledgedOn: Connection | null = null;
  private wake: (() => void) | null = null;
  private isGoingOn = false;
  private isStopping = false;

  constructor(client: Client, onRefused: OnRefused) {
    this.client = client;
    this.onRefused = onRefused;
  }

  /** Settles once every pack so far has its answer, or never gets one. */
  get last(): Promise<void> {
    const last = this.underWay.at(-1);
    if (this.pending === 0 || !last) return Promise.resolve();
    return new Promise((resolve) => {
      last.onOver = resolve;
    });
  }

  hasRoom(): boolean {
    return this.pending < maxPending;
  }

  /** Resolves once there is room again, or the gateway stops. */
  async untilThereIsRoom(): Promise<void> {
    while (!this.hasRoom() && !this.isStopping)
      await new Promise<void>((resolve) => {
        this.wake = resolve;
      });
  }

  /**
   * A pack came, under a number where it asks for an answer: that is given in its turn, once what is given back was told. One
   * that is refused comes again.
   */
  begin(messageId: number | null): EntryWaiter & { stored(): void } {
    const pack = new Pack(this, this.client.stream, messageId);
    this.pending += 1;
    this.underWay.push(pack);
    return pack;
  }

  stop(): void {
    this.isStopping = true;
    this.wake?.();
  }

  /** Answers whoever is next and on disk. */
  goOn(): void {
    if (this.isGoingOn) return;
    this.isGoingOn = true;
    for (
      let pack = this.underWay[this.answered];
      pack !== undefined && (pack.isStored || pack.refusal !== null);
      pack = this.underWay[this.answered]
    ) {
      this.answered += 1;
      if (pack.refusal === null) this.acknowledge(pack);
      else this.giveUp(pack, pack.refusal);
      this.pending -= 1;
      pack.onOver?.();
    }
    this.wake?.();
    if (this.answered >= maxAnswered || this.answered === this.underWay.length) {
      this.underWay.splice(0, this.answered);
      this.answered = 0;
    }
    this.isGoingOn = false;
  }

  private acknowledge({ connection, messageId }: Pack): void {
    if (messageId === null) return;
    if (connection !== this.acknowledgedOn) this.flush();
    this.acknowledgedOn = connection;
    if (this.acknowledged.length === 0) process.nextTick(() => this.flush());
    this.acknowledged.push(messageId);
  }

  /** Without an answer the broker brings the pack again, but only on a new connection. */
  private giveUp({ connection }: Pack, why: string): void {
    this.flush();
    this.onRefused("journal-not-writing", null, why);
    if (this.client.stream === connection) connection.destroy();
  }

  private flush(): void {
    const { acknowledged, acknowledgedOn, client } = this;
    if (acknowledged.length === 0) return;
    this.acknowledged = [];
    if (acknowledgedOn === null || !client.connected || client.stream !== acknowledgedOn) return;
    if (!acknowledgedOn.destroyed) acknowledgedOn.write(pubacks(acknowledged));
  }
}
