import { openOutsideBroker } from "@drumlin/gateway/broker";
import fc from "fast-check";
import mqttPacket, { type Packet } from "mqtt-packet";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Retries } from "../../../gateway/src/broker/retries.ts";
import { appending } from "./appending.ts";
import { until } from "./raw-client.ts";
import { type Spoken, scriptedBroker } from "./scripted-broker.ts";

const topicOf = (kind: string, node = "press", site = "saltmarsh-house") =>
  `drumlin/1/${site}/${node}/${kind}`;
/** Topics that the line maps: one of another protocol, one that is a node's own as well. */
const foreign = ["shed/ec", topicOf("readings", "mapped")];
/** More than any frame that the gateway waits for: 64 kB of payload, as much of topic, and what is round them. */
const overlong = "x".repeat(140_000);

const taken: string[] = [];
let refused: string[] = [];
let logged: string[] = [];
/** What the disk has not said yes to. */
let held: { readonly commit: () => void; readonly fail: () => void }[] = [];
let isHolding = false;
let behind: Promise<void> | null = null;
let scripted: Awaited<ReturnType<typeof scriptedBroker>>;
let broker: Awaited<ReturnType<typeof openOutsideBroker>>;
let connection: Spoken;

beforeEach(async () => {
  taken.length = 0;
  refused = [];
  logged = [];
  held = [];
  isHolding = false;
  behind = null;
  scripted = await scriptedBroker();
  const { appendFor } = appending((entry) => {
    if (entry.kind === "message")
      taken.push(`${entry.topic.split("/").slice(-2).join("/")} ${Buffer.from(entry.payload)}`);
    if (!isHolding) return Promise.resolve(taken.length);
    return new Promise((resolve, reject) => {
      held.push({ commit: () => resolve(1), fail: () => reject(new Error("the disk is full")) });
    });
  });
  broker = await openOutsideBroker(
    {
      journal: { appendFor },
      onRefused: (code, _node, detail) => refused.push(`${code} ${detail}`),
      log: (text) => logged.push(text),
      onTakenOver() {},
      steadyMs: () => performance.now(),
      // Ended on purpose again and again: the wait grows no further than to half a second.
      retries: new Retries(500),
      room: () => behind,
    },
    {
      url: scripted.url,
      site: "saltmarsh-house",
      instance: "this-one",
      takeOver: true,
      foreignTopics: foreign,
    },
  );
  connection = await scripted.connection(1);
});
afterEach(async () => {
  await broker.stop();
  await scripted.stop();
});

const turn = () => new Promise<void>((resolve) => setImmediate(resolve));
const bytesOf = (packet: Packet) => mqttPacket.generate(packet);

function publish(messageId: number, payload: string, more: object = {}): Packet {
  return {
    cmd: "publish",
    topic: topicOf("readings"),
    qos: 1,
    retain: false,
    dup: false,
    messageId,
    payload,
    ...more,
  } as Packet;
}

/** One pack, so that its topic is known from then on. */
async function beKnown(): Promise<void> {
  connection.socket.write(bytesOf(publish(60_000, "first")));
  await until(() => connection.acknowledged.length === 1);
  connection.acknowledged.length = 0;
  taken.length = 0;
}

/** From now on there is no room; gives what makes it again. */
function fallBehind(): () => void {
  let goOn = () => {};
  behind = new Promise((resolve) => {
    goOn = resolve;
  });
  return () => {
    behind = null;
    goOn();
  };
}

/** What a broker may bring. */
const brought = fc.oneof(
  { weight: 8, arbitrary: fc.constant({}) },
  { weight: 1, arbitrary: fc.constant({ dup: true }) },
  { weight: 1, arbitrary: fc.constant({ retain: true }) },
  { weight: 1, arbitrary: fc.constant({ topic: topicOf("presence"), retain: true }) },
  { weight: 1, arbitrary: fc.constant({ topic: topicOf("readings", "drums") }) },
  { weight: 1, arbitrary: fc.constant({ topic: topicOf("readings", "press", "elsewhere") }) },
  { weight: 1, arbitrary: fc.constant({ topic: "shed/ec" }) },
  { weight: 1, arbitrary: fc.constant({ topic: "shed/ec", retain: true }) },
  { weight: 1, arbitrary: fc.constant({ topic: topicOf("readings", "mapped") }) },
  { weight: 1, arbitrary: fc.constant({ topic: topicOf("readings", "mapped"), retain: true }) },
  { weight: 1, arbitrary: fc.constant({ qos: 0, messageId: undefined }) },
  { weight: 1, arbitrary: fc.constant({ payload: "y".repeat(66_000) }) },
  { weight: 1, arbitrary: fc.constant({ payload: overlong }) },
  { weight: 1, arbitrary: fc.constant({ payload: overlong, qos: 0, messageId: undefined }) },
  { weight: 1, arbitrary: fc.constant({ cmd: "pingresp" }) },
);

type Publish = Extract<Packet, { cmd: "publish" }>;
const isPublish = (packet: Packet): packet is Publish => packet.cmd === "publish";
const isStored = ({ topic, payload, retain }: Publish) =>
  !topic.includes("elsewhere") && payload.length <= 65_536 && !(foreign.includes(topic) && retain);

describe("packs that a broker of somebody else brings", () => {
  it("however the bytes are cut, each is stored and answered in its turn, with the others", async () => {
    await beKnown();
    await fc.assert(
      fc.asyncProperty(
        fc.array(brought, { minLength: 1, maxLength: 30 }),
        fc.array(fc.oneof(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 1, max: 70_000 })), {
          minLength: 1,
          maxLength: 20,
        }),
        async (given, cuts) => {
          taken.length = 0;
          connection.acknowledged.length = 0;
          const packets = given.map((more, index) => publish(index + 1, `${index}`, more));
          const bytes = Buffer.concat(packets.map(bytesOf));
          for (let at = 0, cut = 0; at < bytes.length; cut += 1) {
            // Small pieces only near the begin of what is small: an overlong frame byte by byte shows nothing more.
            const step = Math.max(cuts[cut % cuts.length] as number, Math.ceil(bytes.length / 400));
            connection.socket.write(bytes.subarray(at, at + step));
            at += step;
            await turn();
          }
          const sent = packets.filter(isPublish);
          const ids = sent.filter(({ qos }) => qos === 1).map(({ messageId }) => messageId);
          const stored = sent.filter(isStored);
          await until(() => connection.acknowledged.length >= ids.length && taken.length >= stored.length);
          expect(connection.acknowledged).toEqual(ids);
          expect(taken).toEqual(
            stored.map(({ topic, payload }) => `${topic.split("/").slice(-2).join("/")} ${payload}`),
          );
        },
      ),
      { numRuns: 60 },
    );
    expect(new Set(refused.map((one) => one.split(" ")[0]))).toEqual(
      new Set(["topic-not-yours", "payload-too-long"]),
    );
    expect(scripted.connections).toHaveLength(1);
    expect(logged).toEqual([]);
  });

  it("none is answered before the disk has it; an overlong one between them waits for its turn", async () => {
    await beKnown();
    isHolding = true;
    const packets = [publish(1, "a"), publish(2, overlong), publish(3, "c")];
    connection.socket.write(Buffer.concat(packets.map(bytesOf)));
    await until(() => held.length === 2);
    held[1]?.commit();
    for (let turns = 0; turns < 50; turns += 1) await turn();
    expect(connection.acknowledged).toEqual([]);
    held[0]?.commit();
    await until(() => connection.acknowledged.length === 3);
    expect(connection.acknowledged).toEqual([1, 2, 3]);
    expect(refused).toEqual([`payload-too-long ${overlong.length} bytes`]);
  });

  it("an overlong one is refused before its end is there, also behind one that MQTT.js takes", async () => {
    await beKnown();
    const bytes = bytesOf(publish(2, overlong));
    const other = bytesOf(publish(0, "a", { qos: 0, messageId: undefined }));
    connection.socket.write(Buffer.concat([other, bytes.subarray(0, 1000)]));
    await until(() => taken.length === 1);
    connection.socket.write(bytes.subarray(1000, 1010));
    await until(() => refused.length === 1 && connection.acknowledged.length === 1);
    connection.socket.write(Buffer.concat([bytes.subarray(1010), bytesOf(publish(3, "c"))]));
    await until(() => connection.acknowledged.length === 2);
    expect(connection.acknowledged).toEqual([2, 3]);
    expect(taken).toEqual(["press/readings a", "press/readings c"]);
  });

  it("where the disk takes none the connection ends without an answer, and what comes again on the next one is taken", async () => {
    await beKnown();
    isHolding = true;
    connection.socket.write(Buffer.concat([publish(1, "a"), publish(2, "b")].map(bytesOf)));
    await until(() => held.length === 2);
    isHolding = false;
    held[0]?.fail();
    held[1]?.commit();
    const next = await scripted.connection(2);
    expect(connection.acknowledged).toEqual([]);
    next.socket.write(
      Buffer.concat([publish(1, "a", { dup: true }), publish(2, "b", { dup: true })].map(bytesOf)),
    );
    await until(() => next.acknowledged.length === 2);
    expect(next.acknowledged).toEqual([1, 2]);
    expect(taken.filter((one) => one.endsWith(" a"))).toHaveLength(2);
  });

  it("while the rest of the path is behind, what MQTT.js was given stays before what comes after it", async () => {
    await beKnown();
    const goOn = fallBehind();
    const given = ["a", "b", "c"].map((text) => publish(0, text, { qos: 0, messageId: undefined }));
    connection.socket.write(Buffer.concat(given.map(bytesOf)));
    await until(() => taken.length === 1);
    connection.socket.write(bytesOf(publish(4, "d")));
    for (let turns = 0; turns < 50; turns += 1) await turn();
    goOn();
    await until(() => taken.length === 4);
    expect(taken.map((one) => one.at(-1)).join("")).toBe("abcd");
  });

  it("while the rest of the path is behind, no more is read than what is under way", async () => {
    await beKnown();
    const goOn = fallBehind();
    const many = 20_000;
    for (let id = 1; id <= many; id += 1) connection.socket.write(bytesOf(publish(id, "z".repeat(500))));
    await until(() => taken.length > 0);
    for (let turns = 0; turns < 200; turns += 1) await turn();
    // A piece is 64 kB: some 120 packs.
    expect(taken.length).toBeLessThan(200);
    goOn();
    await until(() => connection.acknowledged.length === many);
    expect(connection.acknowledged).toEqual(Array.from({ length: many }, (_, index) => index + 1));
  });
});

describe("a broker that says what nobody can read", () => {
  /** A header that is none: five bytes of length, a type that does not exist, QoS 3, one frame of 200 MB, and chance. */
  const garbage = fc.oneof(
    fc.constant([0x32, 0xff, 0xff, 0xff, 0xff, 0x08]),
    fc.constant([0x30, 0x80, 0x80, 0x80, 0x80, 0x80, 0x01]),
    fc.constant([0x00, 0x02, 0x00, 0x00]),
    fc.constant([0x36, 0x05, 0x00, 0x01, 0x61, 0x00, 0x01]),
    fc.constant([0x36, 0xff, 0xff, 0xff, 0x7f, 0x00, 0x01]),
    fc.constant([0xd0, 0x80, 0x80, 0x80, 0x40]),
    fc.constant([0x32, 0x03, 0xff, 0xff, 0x61]),
  );

  it("is left, and what it brings on a new connection is taken: nothing of the other is", async () => {
    await beKnown();
    let connections = 1;
    await fc.assert(
      fc.asyncProperty(garbage, async (bad) => {
        taken.length = 0;
        connection.acknowledged.length = 0;
        connection.socket.write(
          Buffer.concat([bytesOf(publish(1, "before")), Buffer.from(bad), bytesOf(publish(2, "behind"))]),
        );
        const left = connection;
        await until(() => left.closed);
        expect(taken).toEqual(["press/readings before"]);
        connections += 1;
        connection = await scripted.connection(connections);
        connection.socket.write(bytesOf(publish(3, "again")));
        await until(() => connection.acknowledged.length === 1);
        expect(taken).toEqual(["press/readings before", "press/readings again"]);
      }),
      { numRuns: 12 },
    );
  });
});
