import { connect } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import { createBroker } from "@drumlin/gateway/broker";
import mqttPacket, { type Packet } from "mqtt-packet";
import { afterAll, beforeAll, expect, it } from "vitest";
import { signInPacket } from "../../bench/sign-in-packet.ts";
import { appending } from "./appending.ts";

const taken: string[] = [];
const refused: string[] = [];
let broker: Awaited<ReturnType<typeof createBroker>>;
/** How long the check of a secret takes: a first sign-in under an old hash costs a tenth of a second. */
let verifyMs = 0;

beforeAll(async () => {
  broker = await createBroker(
    {
      journal: {
        trouble: null,
        ...appending(async (entry) => {
          if (entry.kind === "message") taken.push(Buffer.from(entry.payload).toString());
          return taken.length;
        }),
      },
      credentials: {
        inForce: () => "one",
        isCostly: () => false,
        verify: async (_node, secret) => {
          if (verifyMs > 0) await wait(verifyMs);
          return Buffer.from(secret).toString() === "right";
        },
      },
      now: () => performance.now(),
      onRefused: (code) => refused.push(code),
    },
    { site: "saltmarsh-house", host: "127.0.0.1", port: 0 },
  );
});
afterAll(() => broker.stop());

const turn = () => new Promise<void>((resolve) => setImmediate(resolve));
const pack = (messageId: number, payload: string) =>
  mqttPacket.generate({
    cmd: "publish",
    topic: "drumlin/1/saltmarsh-house/press/readings",
    qos: 1,
    retain: false,
    dup: false,
    messageId,
    payload,
  });

/** A node that sends packs on without waiting for its CONNACK (MQTT 3.1.1 §3.1.4 lets it), so many turns apart. */
async function sendEarly(name: string, turns: number, secret = "right"): Promise<Packet[]> {
  const came: Packet[] = [];
  const parser = mqttPacket.parser();
  parser.on("packet", (packet) => came.push(packet));
  const socket = connect(broker.port, "127.0.0.1");
  socket.setNoDelay(true);
  socket.on("data", (chunk: Buffer) => parser.parse(chunk));
  socket.on("error", () => {});
  let isClosed = false;
  socket.on("close", () => (isClosed = true));
  socket.write(signInPacket("press", "press", secret));
  for (let id = 1; id <= 3; id += 1) {
    for (let n = 0; n < turns; n += 1) await turn();
    socket.write(pack(id, `${name} ${id}`));
  }
  await expect.poll(() => isClosed || came.length === 4).toBe(true);
  socket.destroy();
  return came;
}

it("packs that come right behind a CONNECT are all taken, in order, and answered after it", async () => {
  for (const ms of [0, 30])
    for (let turns = 0; turns < 12; turns += 1) {
      verifyMs = ms;
      taken.length = 0;
      const came = await sendEarly("p", turns);
      expect([ms, turns, came.map(({ cmd }) => cmd)]).toEqual([
        ms,
        turns,
        ["connack", "puback", "puback", "puback"],
      ]);
      expect(taken).toEqual(["p 1", "p 2", "p 3"]);
    }
  expect(refused).toEqual([]);
});

it("of one that is refused nothing is taken or answered", async () => {
  taken.length = 0;
  for (let turns = 0; turns < 6; turns += 1)
    expect((await sendEarly("q", turns, "wrong")).map(({ cmd }) => cmd)).toEqual(["connack"]);
  expect(taken).toEqual([]);
  expect(new Set(refused)).toEqual(new Set(["sign-in-refused"]));
});
