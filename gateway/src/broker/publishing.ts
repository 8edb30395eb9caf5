import { parseTopic } from "@drumlin/firmware-protocol";
import type { AedesOptions, Client } from "aedes";
import type { Connection } from "./connection.ts";
import { refusedAlready } from "./connection-faults.ts";
import { FastLane, type PublishFrame } from "./fast-lane.ts";
import { longestFrame } from "./frame-guard.ts";
import { mayTell } from "./permissions.ts";
import type { BrokerRefusalCode } from "./refusals.ts";
import type { Shared } from "./shared.ts";

const longestPayload = 64 * 1024;

type AuthorizePublish = NonNullable<AedesOptions["authorizePublish"]>;
/** The parts of a packet that are looked at, and may be taken out of circulation. */
type PublishedPacket = Pick<Parameters<AuthorizePublish>[1], "topic" | "payload" | "qos" | "retain">;

/** Whether it is what a connection left to be published after it: the library hands that in without a packet's kind. */
function isWill(packet: object): boolean {
  return !("cmd" in packet);
}

/** What of the library's client a packet that goes past it has to move on. */
interface Kept {
  readonly _keepaliveTimer?: NodeJS.Timeout | null;
}

/** Whether a topic is one that the connection's node publishes. */
function isOwnTopic(site: string, { node, ownTopics }: Connection, topic: string): boolean {
  if (ownTopics.has(topic)) return true;
  if (!mayTell(site, node, topic)) return false;
  ownTopics.add(topic);
  return true;
}

/** A will can come when its client is gone; only a presence can be one. */
function isPresenceHere(site: string, text: string): boolean {
  const topic = parseTopic(text);
  return topic.ok && topic.site === site && topic.kind === "presence";
}

/** What is looked at of what is published: `bytes` of its payload. */
interface Published {
  readonly topic: string;
  readonly qos: number;
  readonly bytes: number;
}

/** Why a packet can't be taken; null when it can. */
function refusalOf(
  { components: { foreignNodes }, site }: Shared,
  connection: Connection | undefined,
  { topic, qos, bytes }: Published,
): readonly [code: BrokerRefusalCode, detail: string] | null {
  const node = connection?.node ?? null;
  const isOwn = connection ? isOwnTopic(site, connection, topic) : isPresenceHere(site, topic);
  const isMapped = () => node !== null && foreignNodes?.(topic).has(node) === true;
  if (!isOwn && !isMapped()) return ["topic-not-yours", topic.slice(0, 200)];
  if (qos === 2) return ["qos-2-not-taken", topic];
  return bytes > longestPayload ? ["payload-too-long", `${bytes} bytes`] : null;
}

/**
 * The way past the library for what a signed-in node publishes under a topic that was found to be its own: nothing of it
 * can be refused. Where the client does not read its answers the library takes them, and ends it. A PUBLISH that is too long
 * to be taken is passed over and acknowledged: without a PUBACK the node would send it again for ever.
 */
export function laneOf(shared: Shared, client: Client, connection: Connection): FastLane | null {
  const { journal, onRefused } = shared.components;
  const { node, socket, answers, ownTopics } = connection;
  if (node === null) return null;
  const kept = client as unknown as Kept;
  const takes = ({ topic, payload, messageId }: PublishFrame) => {
    if (!ownTopics.has(topic) || payload.length > longestPayload || socket.writableNeedDrain) return false;
    kept._keepaliveTimer?.refresh();
    journal.appendFor(answers.begin(node, payload.length, messageId), { kind: "message", topic, payload });
    return true;
  };
  return new FastLane(takes, {
    frameBytes: longestFrame,
    onOverlong({ topic, messageId, bytes }) {
      kept._keepaliveTimer?.refresh();
      const [code, detail] = refusalOf(shared, connection, { topic, qos: 1, bytes }) ?? [
        "payload-too-long",
        `${bytes} bytes`,
      ];
      onRefused(code, node, detail);
      answers.begin(node, bytes, messageId ?? (() => {})).stored();
    },
    onBad(why) {
      onRefused("frame-broken", node, why);
      socket.destroy();
    },
  });
}

/** Takes what nodes publish: to the journal, or refused by name. */
export function createPublishing(shared: Shared): AuthorizePublish {
  const { components, connections, connectionOf } = shared;
  const { journal, onRefused } = components;

  /** Whether the node of a will is there. */
  function isAlive(client: Client | null, connection: Connection | undefined, topic: string): boolean {
    if (connection) return client?.closed === false || connections.hasOther(connection);
    const told = parseTopic(topic);
    return told.ok && connections.nodes().includes(told.node);
  }

  return (client, packet: PublishedPacket, callback) => {
    const connection = client ? connectionOf(client) : undefined;
    if (isWill(packet) && isAlive(client, connection, packet.topic)) {
      // The node lives, on this connection or on another one: the late end of one, or the library's look at old wills
      // after the clock was set (it takes its own heartbeat for an old one then), says nothing of it.
      callback(refusedAlready("will of a connection that was replaced"));
      return;
    }
    const node = connection?.node ?? null;
    const payload = typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
    const refusal = refusalOf(shared, connection, {
      topic: packet.topic,
      qos: packet.qos,
      bytes: packet.payload.length,
    });
    // Nobody hears nodes but the journal: nothing of theirs is kept for later subscribers.
    packet.retain = false;
    const entry = { kind: "message", topic: packet.topic, payload } as const;
    if (refusal) {
      onRefused(refusal[0], node, refusal[1]);
      // Lets it through to nobody: acknowledged, since 3.1.1 has no other answer that does not bring it again.
      packet.topic = `$refused/${node ?? "unknown"}`;
      packet.payload = Buffer.alloc(0);
    }
    if (connection && node !== null) {
      const answer = connection.answers.begin(node, payload.length, callback);
      if (refusal) answer.stored();
      else journal.appendFor(answer, entry);
    } else if (refusal) callback(null);
    else journal.append(entry).then(() => callback(null), callback);
  };
}
