import { gatewayTopic, parseTopic } from "@drumlin/firmware-protocol";
import type { IPublishPacket } from "mqtt";
import type { Journal } from "../journal/index.ts";
import type { OnRefused } from "./broker.ts";
import { FastLane } from "./fast-lane.ts";
import type { LaterAnswers } from "./later-answers.ts";

const longestPayload = 64 * 1024;
/** A frame of the longest payload with the longest topic (MQTT 3.1.1 §1.5.3), its number and its header. */
const longestFrame = longestPayload + 0xffff + 9;
/** Names of nodes, and retained topics of an earlier run, that are remembered. */
const maxNodes = 2000;
const maxTopics = 2 * maxNodes;
const maxEarlier = 5000;

interface OutsideIntakeComponents {
  readonly journal: Pick<Journal, "appendFor">;
  readonly onRefused: OnRefused;
  readonly answers: LaterAnswers;
  readonly room: () => Promise<void> | null;
  /** A word of the gateway itself came back by its subscription, now or because the broker had kept it. */
  readonly onOwnWord: (topic: string, payload: string, isKept: boolean) => void;
  /** Told what a gateway at this site says of itself; whether it says so now, or the broker has kept it. */
  readonly onPresence: (text: string, isNow: boolean) => void;
}

/** What MQTT.js takes as "no answer now": it sends no PUBACK by itself and goes on with the next packet. */
const later = new Error("acknowledged later");

/** Takes what a broker of somebody else brings: to the journal, or refused by name. */
export class OutsideIntake {
  private readonly components: OutsideIntakeComponents;
  private readonly site: string;
  private readonly presence: string;
  /** What the gateway itself tells begins with it. */
  private readonly ownTopics: string;
  private readonly known = new Set<string>();
  private readonly nodeOfTopic = new Map<string, string>();
  private readonly toldEarlier = new Set<string>();
  /** Topics of other protocols that the line maps. */
  foreign: ReadonlySet<string>;

  constructor(components: OutsideIntakeComponents, site: string, foreignTopics: readonly string[]) {
    this.components = components;
    this.site = site;
    this.presence = gatewayTopic(site, "presence");
    this.ownTopics = gatewayTopic(site, "");
    this.foreign = new Set(foreignTopics);
  }

  /** Nodes that were heard. */
  get nodes(): readonly string[] {
    return [...this.known];
  }

  /** Retained topics of the gateway that it has not said itself. */
  get earlier(): readonly string[] {
    return [...this.toldEarlier];
  }

  /** Null while there is room for more; else what is waited for. */
  room(): Promise<void> | null {
    const { answers } = this.components;
    const behind = this.components.room();
    if (answers.hasRoom()) return behind;
    return answers.untilThereIsRoom().then(() => behind ?? undefined);
  }

  /** The way past MQTT.js for what nodes of this site send under topics that were heard before. */
  lane(isInForce: () => boolean, onBad: (why: string) => void): FastLane {
    const { journal, answers, onRefused } = this.components;
    return new FastLane(
      ({ topic, payload, messageId }) => {
        if (!this.nodeOfTopic.has(topic) || this.foreign.has(topic) || payload.length > longestPayload)
          return false;
        if (!isInForce()) return false;
        journal.appendFor(answers.begin(messageId), { kind: "message", topic, payload });
        return true;
      },
      {
        frameBytes: longestFrame,
        onOverlong: ({ topic, messageId, bytes }) => {
          const refusal = this.refusalOf(topic, bytes);
          if (refusal) onRefused(...refusal);
          answers.begin(messageId).stored();
        },
        onBad,
      },
    );
  }

  /** Takes what MQTT.js read; `done` is called once it may go on. */
  hear(packet: IPublishPacket, done: (error?: Error) => void): void {
    const { topic, payload, retain, qos, messageId } = packet;
    if (topic.startsWith(this.ownTopics)) {
      this.components.onOwnWord(topic, payload.toString(), retain === true);
      if (topic === this.presence) this.components.onPresence(payload.toString(), !retain);
      // Its own words come back; retained ones that it has not said are an earlier run's.
      if (retain && payload.length > 0 && this.toldEarlier.size < maxEarlier) this.toldEarlier.add(topic);
      done();
      return;
    }
    // What a broker kept of another protocol has no time: it must not come up as new.
    const isOld = retain === true && this.foreign.has(topic);
    const answer = this.components.answers.begin(qos === 1 && messageId !== undefined ? messageId : null);
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
    const behind = this.room();
    if (behind === null) next();
    else void behind.then(next);
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
    if (!read.ok || read.site !== this.site) return null;
    if (this.nodeOfTopic.size < maxTopics) this.nodeOfTopic.set(topic, read.node);
    if (this.known.size < maxNodes) this.known.add(read.node);
    return read.node;
  }
}
