// One attacker, a process of its own: `attacker.ts NAME HTTP MQTT` with secrets in the environment. Bounded in count and
// time, and only ever on this machine.
import { connect, type Socket } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import mqttPacket, { type Packet } from "mqtt-packet";
import { signInPacket } from "../../bench/sign-in-packet.ts";
import { brokenRequest, randomFrom } from "./broken-request.ts";

const [name = "", http, mqtt] = process.argv.slice(2);
const { DRUMS = "", VIEWER = "", OPERATOR = "" } = process.env;
const longestMs = 25_000;
/** Attacks that are done when all of their pieces are, on a busy machine too. */
const longestWholeMs: Readonly<Record<string, number>> = {
  "broken-frames": 240_000,
  "broken-requests": 240_000,
};
const stopAtMs = performance.now() + (longestWholeMs[name] ?? longestMs);
const isOver = () => performance.now() > stopAtMs;
const share = Number(process.env.DRUMLIN_ATTACK_SHARE ?? "1");
const many = (count: number) => Math.ceil(count * share);

function open(port: string | undefined): Socket {
  const socket = connect(Number(port), "127.0.0.1");
  socket.on("error", () => {});
  return socket;
}

/** Opens, writes, and resolves when the other side answers or closes, or has done neither for `patienceMs`. */
function once(port: string | undefined, bytes: Buffer | string, patienceMs = 15_000): Promise<void> {
  return new Promise((resolve) => {
    const socket = open(port);
    const timer = setTimeout(() => socket.destroy(), patienceMs);
    socket.on("data", () => socket.destroy());
    socket.on("close", () => {
      clearTimeout(timer);
      resolve();
    });
    socket.write(bytes);
  });
}

/** Opens, asks, and reads to the end. */
function whole(port: string | undefined, ask: string): Promise<void> {
  return new Promise((resolve) => {
    const socket = open(port);
    socket.resume();
    socket.on("close", () => resolve());
    socket.write(ask);
  });
}

/** `count` pieces of work, so many at once. */
async function all(
  count: number,
  atOnce: number,
  work: (index: number) => Promise<unknown>,
): Promise<number> {
  let next = 0;
  const one = async () => {
    while (next < count && !isOver()) {
      next += 1;
      await work(next);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, one));
  return next;
}

async function opened(port: string | undefined, count: number): Promise<Socket[]> {
  const sockets: Socket[] = [];
  for (let index = 0; index < count && !isOver(); index += 1) {
    sockets.push(open(port));
    if (index % 100 === 99) await wait(20);
  }
  return sockets;
}

function signedIn(node: string, secret: string, clientId: string, clean = true): Promise<Socket> {
  return new Promise((resolve) => {
    const socket = open(mqtt);
    socket.once("data", () => resolve(socket));
    socket.once("close", () => resolve(socket));
    const packet = mqttPacket.generate({
      cmd: "connect",
      protocolId: "MQTT",
      protocolVersion: 4,
      clean,
      clientId,
      keepalive: 60,
      username: node,
      password: Buffer.from(secret),
    });
    socket.write(packet);
    socket.on("data", () => {});
  });
}

const generate = (packet: Packet) => mqttPacket.generate(packet);
const readings = (node: string) => `drumlin/1/saltmarsh-house/${node}/readings`;

const attacks: Readonly<Record<string, () => Promise<string>>> = {
  /** What the machine gives without an attack, to hold the others against. */
  async "no-attack"() {
    await wait(10_000);
    return "10 s";
  },
  async "wrong-sign-ins"() {
    const done = await all(many(3000), 3000, (index) =>
      once(mqtt, signInPacket(`n-${index}`, `n-${index}`, "wrong")),
    );
    return `${done} wrong CONNECTs`;
  },
  async "silent-mqtt"() {
    const sockets = await opened(mqtt, many(5200));
    await wait(8000);
    return `${sockets.length} sockets`;
  },
  async "idle-http"() {
    const sockets = await opened(http, many(2000));
    await wait(8000);
    return `${sockets.length} sockets`;
  },
  async "one-node-floods"() {
    const sockets = await Promise.all(
      Array.from({ length: 40 }, (_, index) => signedIn("drums", DRUMS, `drums-${index}`)),
    );
    const each = many(5000);
    for (const socket of sockets) {
      const packs = Array.from({ length: each }, (_, index) =>
        generate({
          cmd: "publish",
          topic: readings("drums"),
          qos: 1,
          retain: false,
          dup: false,
          messageId: (index % 65_000) + 1,
          payload: `[{"n":"float-1","vb":true,"t":${Date.now() / 1000 + index / 1e6}}]`,
        }),
      );
      socket.write(Buffer.concat(packs));
    }
    await wait(15_000);
    return `${40 * each} packs on 40 connections`;
  },
  async filters() {
    for (let round = 0; round < 5; round += 1) {
      const socket = await signedIn("drums", DRUMS, `drums-${round}`, false);
      const subscriptions = Array.from({ length: 1500 }, (_, index) => ({
        topic: `drumlin/1/saltmarsh-house/gateway/${index.toString(36)}`,
        qos: 1 as const,
      }));
      socket.write(generate({ cmd: "subscribe", messageId: 1, subscriptions }));
      await wait(500);
      socket.destroy();
    }
    return "5 × 1,500 filters";
  },
  async "broken-frames"() {
    const byte = randomFrom(7);
    const good = signInPacket("drums", "drums", DRUMS);
    const done = await all(many(20_000), 100, () => {
      const bytes = Buffer.concat([good, Buffer.from(Array.from({ length: 20 }, byte))]);
      for (let flips = byte() % 4; flips >= 0; flips -= 1) bytes[byte() % bytes.length] = byte();
      // A length that was made greater waits for the rest: it is not waited for here.
      return once(mqtt, bytes, 300);
    });
    return `${done} frames`;
  },
  async "broken-requests"() {
    const random = randomFrom(11);
    const done = await all(many(5000), 20, () => once(http, brokenRequest(OPERATOR, random), 5000));
    return `${done} requests`;
  },
  async "viewer-streams"() {
    const ask = `GET /api/live HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${VIEWER}\r\n\r\n`;
    const sockets = await opened(http, many(300));
    for (const socket of sockets) socket.write(ask);
    await wait(8000);
    return `${sockets.length} streams`;
  },
  async "viewer-checks"() {
    const yaml = `drumlin: 1\nsite: s\n${Array.from({ length: 5600 }, (_, index) => `k${index}: 1`).join("\n")}`;
    const body = JSON.stringify({ yaml });
    const ask = `POST /api/line/check HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${VIEWER}\r\ncontent-type: application/json\r\ncontent-length: ${Buffer.byteLength(body)}\r\nconnection: close\r\n\r\n${body}`;
    const done = await all(many(20), 4, () => once(http, ask));
    return `${done} line checks`;
  },
  /** The longest lists of a year, again and again. */
  async "viewer-lists"() {
    const paths = [
      "/api/nights?limit=100",
      "/api/alarms/kpi?days=92",
      "/api/alarms/journal?limit=1000",
      "/api/fills?limit=1000",
      "/api/line/file",
      "/api/audit?limit=1000",
    ];
    const ask = (path: string) =>
      `GET ${path} HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${VIEWER}\r\nconnection: close\r\n\r\n`;
    const done = await all(many(100_000), 40, (index) =>
      whole(http, ask(paths[index % paths.length] as string)),
    );
    return `${done} lists of a year in ${longestMs / 1000} s`;
  },
  async "viewer-unread"() {
    const ask = `GET /api/docs HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${VIEWER}\r\n\r\n`;
    const sockets = await opened(http, 10);
    for (const socket of sockets) {
      socket.pause();
      socket.write(ask.repeat(many(500)));
    }
    await wait(12_000);
    return `${10 * many(500)} requests, no answer read`;
  },
};

const attack = attacks[name];
if (!attack) {
  console.log(Object.keys(attacks).join(" "));
} else {
  console.log(await attack());
  process.exit(0);
}
