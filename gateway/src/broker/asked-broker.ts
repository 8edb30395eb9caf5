import { connect, type IConnackPacket } from "mqtt";
import type { connectOptions } from "./client-options.ts";
import { frameBytes } from "./frame-bytes.ts";

/** A word that is kept by the broker under its topic. */
export interface KeptWord {
  readonly topic: string;
  readonly payload: string;
}

/** What a broker says of itself in MQTT 5. */
export interface BrokerSays {
  /** Longest packet that it takes (§3.2.2.3.6), bytes; null: no limit. */
  readonly longestBytes: number | null;
  /** Topics under which its rules let nothing be written (§3.4.2.1). */
  readonly unwritten: readonly string[];
}

/** PUBACK of MQTT 5: not authorised, topic name invalid, refused by whoever set it up. */
const refusals: ReadonlySet<unknown> = new Set([0x83, 0x87, 0x90]);

/** A word on which a connection ends without an answer is tried once more: the way may have ended it. */
const triesOfEach = 2;

/** What one connection gave. */
interface Answered extends BrokerSays {
  /** Without an answer: the connection ended at the first of them. */
  readonly left: readonly KeptWord[];
}

/**
 * Asks a broker, over connections of its own in MQTT 5, what MQTT 3.1.1 has no answer for: the longest packet that it takes, and
 * whether these words may be written. They are written as they stand. Some brokers end the connection for each that may not: the next
 * one goes on behind it. Null where it does not speak MQTT 5, or is away. Rules that go by the client's name may tell these
 * connections something else than the gateway's own.
 */
export async function askBroker(
  url: string,
  connecting: ReturnType<typeof connectOptions>,
  words: readonly KeptWord[],
): Promise<BrokerSays | null> {
  let says: BrokerSays | null = null;
  let left = words;
  for (let tries = 0; ; ) {
    const answered: Answered | null = await ask(url, connecting, left);
    if (answered === null) return says;
    const unwritten: string[] = [...(says?.unwritten ?? []), ...answered.unwritten];
    says = { longestBytes: answered.longestBytes, unwritten };
    const [first] = answered.left;
    if (first === undefined) return says;
    tries = answered.left.length === left.length ? tries + 1 : 0;
    left = answered.left;
    if (tries < triesOfEach) continue;
    unwritten.push(first.topic);
    left = left.slice(1);
    tries = 0;
  }
}

async function ask(
  url: string,
  connecting: ReturnType<typeof connectOptions>,
  words: readonly KeptWord[],
): Promise<Answered | null> {
  const client = connect(url, { ...connecting, protocolVersion: 5, clean: true, reconnectPeriod: 0 });
  client.on("error", () => {});
  const ended = new Promise<null>((resolve) => client.once("close", () => resolve(null)));
  const unwritten: string[] = [];
  try {
    const connack = await Promise.race([
      new Promise<IConnackPacket>((resolve) => client.once("connect", resolve)),
      ended,
    ]);
    if (connack === null) return null;
    const longestBytes = connack.properties?.maximumPacketSize ?? null;
    for (const [at, { topic, payload }] of words.entries()) {
      if (longestBytes !== null && frameBytes(topic, payload) > longestBytes) continue;
      const written = client.publishAsync(topic, payload, { qos: 1, retain: true }).then(
        () => true,
        (error: { readonly code?: unknown }) => {
          if (refusals.has(error.code)) unwritten.push(topic);
          return true;
        },
      );
      // The broker's answer may come together with the end.
      const isAnswered = (await Promise.race([written, ended])) ?? unwritten.includes(topic);
      if (!isAnswered) return { longestBytes, unwritten, left: words.slice(at) };
    }
    return { longestBytes, unwritten, left: [] };
  } finally {
    client.end(true);
  }
}
