import { createBroker } from "@drumlin/gateway/broker";
import mqttPacket, { type Packet } from "mqtt-packet";
import { afterEach, describe, expect, it } from "vitest";
import { appending } from "./appending.ts";
import { publish, signedIn, subscribe, until } from "./raw-client.ts";

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const topic = "drumlin/1/saltmarsh-house/press/readings";
const anothers = "drumlin/1/saltmarsh-house/drums/readings";
const long = "x".repeat(100_000);

async function started() {
  const taken: string[] = [];
  const refused: string[] = [];
  const broker = await createBroker(
    {
      journal: {
        trouble: null,
        ...appending(async (entry) => {
          if (entry.kind === "message" && entry.topic === topic)
            taken.push(Buffer.from(entry.payload).toString());
          return taken.length;
        }),
      },
      credentials: { inForce: () => "one", isCostly: () => false, verify: async () => true },
      now: () => performance.now(),
      onRefused: (code, _node, detail) => refused.push(`${code} ${detail}`),
    },
    { site: "saltmarsh-house", host: "127.0.0.1", port: 0 },
  );
  ends.push(() => broker.stop());
  const press = await signedIn(broker.port, "press");
  ends.push(() => press.socket.destroy());
  return { press, taken, refused };
}

const acknowledged = (came: readonly Packet[]) =>
  came.flatMap((packet) => (packet.cmd === "puback" ? [packet.messageId] : []));
const bytesOf = (...packets: readonly Packet[]) =>
  Buffer.concat(packets.map((packet) => mqttPacket.generate(packet)));

describe("a PUBLISH over 64 KiB of a signed-in node is refused by name and acknowledged, and its connection stays", () => {
  it.each([100_000_000, 30_000, 1])("in pieces of %d bytes, between others, in order", async (pieceBytes) => {
    const { press, taken, refused } = await started();
    const bytes = bytesOf(
      publish(1, topic, 1, "[1]"),
      publish(2, topic, 1, long),
      publish(3, topic, 1, "[3]"),
      subscribe(4, "drumlin/1/saltmarsh-house/press/request"),
      publish(5, topic, 1, long),
      publish(6, topic, 1, long),
      publish(7, topic, 1, "[7]"),
    );
    // Of single bytes only the headers: 300,000 of them would say no more.
    const small = pieceBytes === 1 ? 64 : Number.POSITIVE_INFINITY;
    for (let at = 0; at < bytes.length; ) {
      const isNearHeader = at % 100_000 < small;
      const to = Math.min(bytes.length, at + (isNearHeader ? pieceBytes : 1000));
      await new Promise((resolve) => press.socket.write(bytes.subarray(at, to), resolve));
      at = to;
    }
    await until(() => acknowledged(press.came).length === 6);
    expect(acknowledged(press.came)).toEqual([1, 2, 3, 5, 6, 7]);
    expect(press.came.some(({ cmd }) => cmd === "suback")).toBe(true);
    expect(taken).toEqual(["[1]", "[3]", "[7]"]);
    expect(refused).toEqual(Array(3).fill("payload-too-long 100000 bytes"));
    expect(press.closed()).toBe(false);
  });

  it("another node's topic is named as that; without an answer asked for there is none", async () => {
    const { press, taken, refused } = await started();
    press.bytes(
      bytesOf(
        publish(1, anothers, 1, long),
        { cmd: "publish", topic, payload: long, qos: 0, dup: false, retain: false },
        publish(2, topic, 1, "[2]"),
      ),
    );
    await until(() => acknowledged(press.came).length === 2);
    expect(acknowledged(press.came)).toEqual([1, 2]);
    expect(refused).toEqual([`topic-not-yours ${anothers}`, "payload-too-long 100000 bytes"]);
    expect(taken).toEqual(["[2]"]);
  });
});

it.each([
  ["a PUBLISH of QoS 2", publish(1, topic, 2, long), /^frame-broken /],
  ["a PUBLISH over 1 MiB", publish(1, topic, 1, "x".repeat(1_100_000)), /^frame-too-long /],
  ["another packet", subscribe(1, ...Array(2000).fill(topic)), /^frame-too-long /],
] as const)("what is too long ends the connection where it is %s", async (_what, packet, named) => {
  const { press, refused } = await started();
  press.bytes(bytesOf(packet));
  await until(() => press.closed());
  expect(refused).toHaveLength(1);
  expect(refused[0]).toMatch(named);
});
