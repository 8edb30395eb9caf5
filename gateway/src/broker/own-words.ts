import type { MqttClient } from "mqtt";
import type { BrokerSays, KeptWord } from "./asked-broker.ts";
import { frameBytes } from "./frame-bytes.ts";
import type { OutsideTrouble } from "./outside-trouble.ts";

/** A word that the broker took comes back by then, unless much waits before it. */
const backWithinMs = 30_000;
const lookEveryMs = 10_000;
/** Whatever waits before it: by then it came, or is not passed on. */
const backAtLatestMs = 600_000;
/** A connection that ended before it stood so long, with words that got no answer, may have been cut off for one of them. */
const cutOffMs = 30_000;
/** A broker that named nothing is not asked again for so long; whether it still refuses what it named is asked as often. */
const askAgainMs = 600_000;
/** So many words are asked for at once. */
const mostAsked = 50;

interface OwnWordsNeeds {
  readonly client: MqttClient;
  readonly outside: OutsideTrouble;
  /** Asks the broker in MQTT 5; null where it does not speak that. */
  readonly ask: (words: readonly KeptWord[]) => Promise<BrokerSays | null>;
  readonly steadyMs: () => number;
  /** The broker takes longer words than before: what was kept from it is to be told again. */
  readonly onRoom: () => void;
}

interface Awaited extends KeptWord {
  readonly order: number;
  readonly toldMs: number;
  readonly isAsked: boolean;
}

/**
 * What the gateway itself says on a broker of somebody else. One that takes no packet so long ends the connection, and MQTT.js would
 * send it again on each new one; one whose rules forbid it acknowledges it and drops it, or ends the connection as well (MQTT 3.1.1
 * §3.3.5-2). So a word that was under way when a connection ended is forgotten, the broker is asked in MQTT 5 for what it
 * ended it and is not told that any more, and what does not come back by the gateway's own subscription is named.
 */
export class OwnWords {
  private readonly needs: OwnWordsNeeds;
  private readonly awaited = new Map<string, Awaited>();
  private unanswered = 0;
  private longestBytes: number | null = null;
  private openedMs = Number.POSITIVE_INFINITY;
  private askedMs = Number.NEGATIVE_INFINITY;
  /** Words on a connection that was cut off, perhaps for one of them. */
  private suspects: readonly KeptWord[] | null = null;
  /** Words for which the broker ends connections: it is not told them. */
  private readonly held = new Map<string, string>();
  private askingHeld: NodeJS.Timeout | undefined;
  private order = 0;
  private lastBack = 0;
  private timer: NodeJS.Timeout | undefined;
  /** One question at a time: they have one name at the broker. */
  private asking: Promise<unknown> = Promise.resolve();

  constructor(needs: OwnWordsNeeds) {
    this.needs = needs;
  }

  opened(): void {
    this.openedMs = this.needs.steadyMs();
    this.suspects = null;
    // What it did not take before, another broker in its place may.
    if (this.longestBytes !== null || this.held.size > 0) void this.askAgain();
    this.askLater();
  }

  /** What was under way is told anew by whoever told it, or came too late to be told. */
  closed(): void {
    const { client, steadyMs } = this.needs;
    const isShort = steadyMs() - this.openedMs < cutOffMs;
    const hasWords = this.unanswered > 0 || this.awaited.size > 0;
    this.suspects = isShort && hasWords ? [...this.awaited.values()] : null;
    const { outgoing } = client as unknown as { readonly outgoing: object };
    for (const id of Object.keys(outgoing)) client.removeOutgoingMessage(Number(id));
    this.stop();
  }

  /** After a connection that may have been cut off for a word: the broker is asked before the next one. */
  async beforeNext(): Promise<void> {
    const { suspects } = this;
    const nowMs = this.needs.steadyMs();
    if (suspects === null || nowMs - this.askedMs < askAgainMs) return;
    this.askedMs = nowMs;
    const says = await this.ask(suspects);
    for (const { topic, payload } of suspects)
      if (says?.unwritten.includes(topic)) this.held.set(topic, payload);
    const isNamed = says !== null && (says.longestBytes !== this.longestBytes || says.unwritten.length > 0);
    // It may be cut off for another one: what named nothing would be asked again and again.
    if (isNamed) this.askedMs = Number.NEGATIVE_INFINITY;
    if (says) this.takes(says);
    this.askLater();
  }

  private ask(words: readonly KeptWord[]): Promise<BrokerSays | null> {
    const answer = this.asking.then(() => this.needs.ask(words));
    this.asking = answer.catch(() => {});
    return answer;
  }

  /** Whether it still refuses what it refused. */
  private async askAgain(): Promise<void> {
    const words = [...this.held].map(([topic, payload]) => ({ topic, payload }));
    const says = await this.ask(words);
    if (!says) return;
    const free = words.filter(({ topic }) => !says.unwritten.includes(topic));
    for (const { topic } of free) this.held.delete(topic);
    const isAnew = this.takes(says);
    if (free.length > 0 && !isAnew) this.needs.onRoom();
  }

  private askLater(): void {
    if (this.held.size === 0) return;
    this.askingHeld ??= setTimeout(() => {
      this.askingHeld = undefined;
      if (this.needs.client.connected) void this.askAgain();
      this.askLater();
    }, askAgainMs).unref();
  }

  /** Whether all is told anew, as it takes longer words than before. */
  private takes({ longestBytes }: BrokerSays): boolean {
    const before = this.longestBytes;
    this.longestBytes = longestBytes;
    if (before === null || (longestBytes !== null && longestBytes <= before)) return false;
    this.needs.outside.takesLonger();
    this.needs.onRoom();
    return true;
  }

  /** Tells something that the broker keeps; "" takes it away. */
  tell(topic: string, payload: string): void {
    if (this.held.has(topic)) {
      this.held.set(topic, payload);
      this.needs.outside.notWritten(topic);
      return;
    }
    // It may come back before it is acknowledged.
    this.await({ topic, payload });
    void this.publish(topic, payload, true).then((isTaken) => {
      if (!isTaken) this.awaited.delete(topic);
    });
  }

  /** Publishes with QoS 1; false where the broker did not take it. */
  publish(topic: string, payload: string, retain: boolean): Promise<boolean> {
    const { client, outside } = this.needs;
    const bytes = frameBytes(topic, payload);
    if (this.longestBytes !== null && bytes > this.longestBytes) {
      outside.tooLong(topic, bytes, this.longestBytes);
      return Promise.resolve(false);
    }
    outside.shortEnough(topic);
    this.unanswered += 1;
    return new Promise((resolve) =>
      client.publish(topic, payload, { qos: 1, retain }, (error) => {
        this.unanswered -= 1;
        resolve(!error);
      }),
    );
  }

  /** A word of the gateway came back; or the broker had kept it. */
  back(topic: string, payload: string, isKept: boolean): void {
    const awaited = this.awaited.get(topic);
    if (!awaited || (isKept && payload !== awaited.payload)) return;
    this.lastBack = Math.max(this.lastBack, awaited.order);
    this.awaited.delete(topic);
    this.needs.outside.heardBack(topic);
  }

  private await({ topic, payload }: KeptWord): void {
    const known = this.awaited.get(topic);
    this.order += 1;
    // Told again and again it would never be late: its first telling counts.
    const { order, toldMs, isAsked } = known ?? {
      order: this.order,
      toldMs: this.needs.steadyMs(),
      isAsked: false,
    };
    this.awaited.set(topic, { topic, payload, order, toldMs, isAsked });
    this.timer ??= setTimeout(() => void this.look(), lookEveryMs).unref();
  }

  /** Looks for what did not come back. */
  private async look(): Promise<void> {
    const { outside, steadyMs, client } = this.needs;
    const late = [...this.awaited.values()].filter(({ toldMs }) => steadyMs() - toldMs >= backWithinMs);
    // What came back was written later: what waits before it has passed, and this was not among it.
    const isMissing = ({ order, toldMs }: Awaited) =>
      order < this.lastBack || steadyMs() - toldMs >= backAtLatestMs;
    for (const { topic } of late.filter((one) => one.isAsked && isMissing(one))) outside.notBack(topic);
    const asked = late.filter(({ isAsked }) => !isAsked).slice(0, mostAsked);
    const connection = client.stream;
    const says = asked.length > 0 ? await this.ask(asked) : null;
    for (const topic of says?.unwritten ?? []) outside.notWritten(topic);
    if (client.stream === connection && client.connected) {
      for (const { topic } of asked) {
        const now = this.awaited.get(topic);
        // What was written for the question may be older than what was told meanwhile.
        if (now) void this.publish(topic, now.payload, true);
        if (now) this.awaited.set(topic, { ...now, isAsked: true });
      }
      this.timer =
        this.awaited.size > 0 ? setTimeout(() => void this.look(), lookEveryMs).unref() : undefined;
    }
  }

  /** Nothing is waited for any more. */
  stop(): void {
    clearTimeout(this.timer);
    clearTimeout(this.askingHeld);
    this.timer = this.askingHeld = undefined;
    this.awaited.clear();
  }
}
