import { parseTopic } from "@drumlin/firmware-protocol";
import type { AedesOptions, Client } from "aedes";
import type { Connection } from "./connection.ts";
import { refusedAlready } from "./connection-faults.ts";
import { FastLane } from "./fast-lane.ts";
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

/**
 * The way past the library for what a signed-in node publishes under a topic that was found to be its own: nothing of it
 * can be refused. Where the client does not read its answers the library takes them, and ends it.
 */
export function laneOf(
  { components: { journal } }: Shared,
  client: Client,
  { node, socket, answers, ownTopics }: Connection,
): FastLane | null {
  if (node === null) return null;
  const kept = client as unknown as Kept;
  return new FastLane(({ topic, payload, messageId }) => {
    if (!ownTopics.has(topic) || payload.length > longestPayload || socket.writableNeedDrain) return false;
    kept._keepaliveTimer?.refresh();
    journal.appendFor(answers.begin(node, payload.length, messageId), { kind: "message", topic, payload });
    return true;
  });
}

/** Takes what nodes publish: to the journal, or refused by name. */
export function createPublishing({ components, site, connections, connectionOf }: Shared): AuthorizePublish {
  const { journal, onRefused, foreignNodes } = components;

  /** Whether a topic is one that the connection's node publishes. */
  function isOwnTopic({ node, ownTopics }: Connection, topic: string): boolean {
    if (ownTopics.has(topic)) return true;
    if (!mayTell(site, node, topic)) return false;
    ownTopics.add(topic);
    return true;
  }

  /** A will can come when its client is gone; only a presence can be one. */
  function isPresenceHere(text: string): boolean {
    const topic = parseTopic(text);
    return topic.ok && topic.site === site && topic.kind === "presence";
  }

  /** Why a packet can't be taken; null when it can. */
  function refusalOf(
    packet: PublishedPacket,
    connection: Connection | undefined,
  ): readonly [code: BrokerRefusalCode, detail: string] | null {
    const node = connection?.node ?? null;
    const isOwn = connection ? isOwnTopic(connection, packet.topic) : isPresenceHere(packet.topic);
    const isMapped = () => node !== null && foreignNodes?.(packet.topic).has(node) === true;
    if (!isOwn && !isMapped()) return ["topic-not-yours", packet.topic.slice(0, 200)];
    if (packet.qos === 2) return ["qos-2-not-taken", packet.topic];
    const { length } = packet.payload;
    return length > longestPayload ? ["payload-too-long", `${length} bytes`] : null;
  }

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
    const refusal = refusalOf(packet, connection);
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
