import { createBroker } from "@drumlin/gateway/broker";
import fc from "fast-check";
import mqttPacket, { type Packet } from "mqtt-packet";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from "vitest";
import { appending } from "./appending.ts";
import { rawClient, signIn } from "./raw-client.ts";

const topicOf = (kind: string, node = "press") => `drumlin/1/saltmarsh-house/${node}/${kind}`;

const taken: string[] = [];
const refused: string[] = [];
/** What the disk has not said yes to. */
let held: { readonly commit: () => void; readonly fail: () => void }[] = [];
let isHolding = false;
let broker: Awaited<ReturnType<typeof createBroker>>;

beforeAll(async () => {
  const { append, appendFor } = appending((entry) => {
    if (entry.kind === "message")
      taken.push(`${entry.topic.split("/").at(-1)} ${Buffer.from(entry.payload)}`);
    if (!isHolding) return Promise.resolve(taken.length);
    return new Promise((resolve, reject) => {
      held.push({ commit: () => resolve(1), fail: () => reject(new Error("the disk is full")) });
    });
  });
  broker = await createBroker(
    {
      journal: { trouble: null, append, appendFor },
      credentials: {
        inForce: () => "one",
        isCostly: () => false,
        verify: async () => true,
      },
      now: () => performance.now(),
      onRefused: (code) => refused.push(code),
    },
    {
      site: "saltmarsh-house",
      host: "127.0.0.1",
      port: 0,
      rate: { packsPerSecond: 1e6, bytesPerSecond: 1e9, burstSeconds: 10 },
    },
  );
});
afterAll(() => broker.stop());
beforeEach(() => {
  taken.length = 0;
  refused.length = 0;
  held = [];
  isHolding = false;
});
afterEach(() => {
  vi.useRealTimers();
});

const turn = () => new Promise<void>((resolve) => setImmediate(resolve));
/** Until it is so; by turns of the loop, since timers may be false ones. */
async function until(right: () => boolean): Promise<void> {
  const hangsAtMs = performance.now() + 60_000;
  while (!right() && performance.now() < hangsAtMs) await turn();
  expect(right()).toBe(true);
}

/** A node that is signed in, and has said one pack: its topic is known from then on. */
async function speaking(keepalive = 0) {
  const client = rawClient(broker.port);
  client.send(signIn("press", "right", { keepalive }));
  await until(() => client.came.length === 1);
  client.send(publish(60_000, "readings", "first"));
  await until(() => client.came.length === 2);
  taken.length = 0;
  client.came.length = 0;
  return client;
}

function publish(messageId: number, kind: string, payload: string, more: object = {}): Packet {
  return {
    cmd: "publish",
    topic: topicOf(kind),
    qos: 1,
    retain: false,
    dup: false,
    messageId,
    payload,
    ...more,
  } as Packet;
}

/** What a node may send, good and bad. */
const sent = fc.oneof(
  { weight: 6, arbitrary: fc.constant({}) },
  { weight: 1, arbitrary: fc.constant({ dup: true }) },
  { weight: 1, arbitrary: fc.constant({ retain: true }) },
  { weight: 1, arbitrary: fc.constant({ topic: topicOf("presence") }) },
  { weight: 1, arbitrary: fc.constant({ topic: topicOf("readings", "drums") }) },
  { weight: 1, arbitrary: fc.constant({ qos: 0, messageId: undefined }) },
  { weight: 1, arbitrary: fc.constant({ payload: "x".repeat(200) }) },
  { weight: 1, arbitrary: fc.constant({ cmd: "pingreq" }) },
);

describe("packs that go past the library", () => {
  it("however the bytes are cut, each is stored and answered in its turn, with the others", async () => {
    const client = await speaking();
    await fc.assert(
      fc.asyncProperty(
        fc.array(sent, { minLength: 1, maxLength: 40 }),
        fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 20 }),
        async (given, cuts) => {
          taken.length = 0;
          client.came.length = 0;
          const packets = given.map((more, index) => publish(index + 1, "readings", `${index}`, more));
          const bytes = Buffer.concat(packets.map((packet) => mqttPacket.generate(packet)));
          for (let at = 0, cut = 0; at < bytes.length; cut += 1) {
            const step = cuts[cut % cuts.length] as number;
            client.bytes(bytes.subarray(at, at + step));
            at += step;
            await turn();
          }
          const answered = packets.filter(
            ({ cmd, qos }: Partial<{ cmd: string; qos: number }>) => cmd !== "pingreq" && qos === 1,
          );
          const pings = packets.filter(({ cmd }) => cmd === "pingreq").length;
          await until(() => client.came.length === answered.length + pings);
          await until(() => taken.length === packets.filter(isStored).length);
          expect(
            client.came.flatMap((packet) => (packet.cmd === "puback" ? [packet.messageId] : [])),
          ).toEqual(answered.map(({ messageId }) => messageId));
          expect(taken).toEqual(
            packets
              .filter(isStored)
              .map(
                (packet) => `${(packet as { topic: string }).topic.split("/").at(-1)} ${payloadOf(packet)}`,
              ),
          );
        },
      ),
      { numRuns: 60 },
    );
    expect(new Set(refused)).toEqual(new Set(["topic-not-yours"]));
    client.socket.destroy();
  });

  it("none is answered before the disk has it; what is refused between them waits for its turn", async () => {
    const client = await speaking();
    isHolding = true;
    const foreign = publish(2, "readings", "b", { topic: topicOf("readings", "drums") });
    client.send(publish(1, "readings", "a"), foreign, publish(3, "readings", "c"));
    await until(() => held.length === 2);
    held[1]?.commit();
    for (let turns = 0; turns < 50; turns += 1) await turn();
    expect(client.came).toEqual([]);
    held[0]?.commit();
    await until(() => client.came.length === 3);
    expect(client.came.map(({ messageId }) => messageId)).toEqual([1, 2, 3]);
    client.socket.destroy();
  });

  it("where the disk takes none the connection ends without an answer", async () => {
    const client = await speaking();
    isHolding = true;
    client.send(publish(1, "readings", "a"), publish(2, "readings", "b"));
    await until(() => held.length === 2);
    held[0]?.fail();
    held[1]?.commit();
    await until(() => client.closed());
    expect(client.came).toEqual([]);
    expect(refused).toContain("journal-not-writing");
  });

  it("they are a sign of life: keep-alive goes on with them, and ends without", async () => {
    vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
    const client = await speaking(1);
    for (let id = 1; id <= 4; id += 1) {
      vi.advanceTimersByTime(1200);
      client.send(publish(id, "readings", `${id}`));
      await until(() => client.came.length === id);
    }
    expect(client.closed()).toBe(false);
    vi.advanceTimersByTime(1600);
    await until(() => client.closed());
  });
});

function isStored(packet: Packet): boolean {
  return packet.cmd === "publish" && packet.topic !== topicOf("readings", "drums");
}
function payloadOf(packet: Packet): string {
  return packet.cmd === "publish" ? String(packet.payload) : "";
}
