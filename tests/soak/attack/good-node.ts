import { spawn } from "node:child_process";
import { request } from "node:http";
import { connect } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import mqttPacket from "mqtt-packet";
import { signInPacket } from "../../bench/sign-in-packet.ts";

const topic = "drumlin/1/saltmarsh-house/press/readings";
const patienceMs = 20_000;

/** Milliseconds that each question took; one without an answer counts as the whole patience. */
export class Latencies {
  readonly tookMs: number[] = [];

  get p99Ms(): number {
    const sorted = this.tookMs.toSorted((a, b) => a - b);
    return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * 0.99))] ?? Number.NaN;
  }
}

/** Signs in on a connection of its own; the ms until the answer, or null when there was none. */
export function freshSignIn(port: number, node: string, secret: string): Promise<number | null> {
  const beganMs = performance.now();
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1", () =>
      socket.write(signInPacket(`${node}-fresh`, node, secret)),
    );
    const over = (answer: number | null) => {
      clearTimeout(timer);
      socket.destroy();
      resolve(answer);
    };
    const timer = setTimeout(() => over(null), patienceMs);
    socket.on("data", (chunk: Buffer) => over(chunk[3] === 0 ? performance.now() - beganMs : null));
    socket.on("error", () => over(null));
    socket.on("close", () => over(null));
  });
}

/** A node that sends one pack in 50 ms and counts what was acknowledged; it comes back when it is dropped. */
export function goodNode(port: number, secret: string) {
  const latencies = new Latencies();
  const under = new Map<number, number>();
  const timeOf = new Map<number, number>();
  const acknowledgedMs: number[] = [];
  let over = false;
  let sent = 0;
  let acknowledged = 0;
  let drops = -1;
  let lastMs = 0;
  let socket = connectAgain();

  function connectAgain() {
    drops += 1;
    under.clear();
    const made = connect(port, "127.0.0.1", () => made.write(signInPacket("press", "press", secret)));
    const parser = mqttPacket.parser();
    parser.on("packet", (packet) => {
      const sentMs = packet.cmd === "puback" ? under.get(packet.messageId as number) : undefined;
      if (sentMs === undefined) return;
      under.delete(packet.messageId as number);
      acknowledged += 1;
      acknowledgedMs.push(timeOf.get(packet.messageId as number) as number);
      latencies.tookMs.push(performance.now() - sentMs);
    });
    made.on("data", (chunk: Buffer) => parser.parse(chunk));
    made.on("error", () => {});
    made.on("close", async () => {
      for (const _ of under) latencies.tookMs.push(patienceMs);
      await wait(200);
      if (!over) socket = connectAgain();
    });
    return made;
  }

  const sending = setInterval(() => {
    if (socket.connecting || socket.destroyed) return;
    sent += 1;
    const messageId = (sent % 65_000) + 1;
    under.set(messageId, performance.now());
    // Never the same time twice, also when this process was held up: equal absolute times replace each other.
    lastMs = Math.max(lastMs + 1, Date.now());
    timeOf.set(messageId, lastMs);
    const payload = JSON.stringify([{ n: "ec-1", u: "S/m", v: 0.0412, t: lastMs / 1000 }]);
    socket.write(
      mqttPacket.generate({ cmd: "publish", topic, qos: 1, retain: false, dup: false, messageId, payload }),
    );
  }, 50);
  return {
    latencies,
    counts: () => ({ sent, acknowledged, drops }),
    /** Times of the packs that were acknowledged, epoch ms. */
    acknowledgedMs,
    async stop() {
      clearInterval(sending);
      await wait(2000);
      over = true;
      socket.destroy();
    },
  };
}

/** A server that gives back what it gets, and does nothing else: what it costs to be asked is the machine's. */
const echoServer = `require("node:net").createServer((socket) => socket.on("error", () => {}).pipe(socket))
  .listen(0, "127.0.0.1", function () { process.send(this.address().port); });`;

/** Sends a message each 50 ms to a bare echo server in a process of its own: the yardstick of this machine meanwhile. */
export async function bareEcho() {
  const latencies = new Latencies();
  const server = spawn(process.execPath, ["-e", echoServer], {
    stdio: ["ignore", "ignore", "inherit", "ipc"],
  });
  const port = await new Promise<number>((resolve) =>
    server.once("message", (told) => resolve(Number(told))),
  );
  const socket = connect(port, "127.0.0.1");
  socket.setNoDelay(true);
  const under: number[] = [];
  socket.on("data", (chunk: Buffer) => {
    for (const _ of chunk) latencies.tookMs.push(performance.now() - (under.shift() ?? Number.NaN));
  });
  const timer = setInterval(() => {
    under.push(performance.now());
    socket.write(".");
  }, 50);
  return {
    latencies,
    stop() {
      clearInterval(timer);
      socket.destroy();
      server.kill();
    },
  };
}

/** Asks a path each 100 ms, on a new connection each time. */
export function asking(port: number, path: string) {
  const latencies = new Latencies();
  const ask = () => {
    const beganMs = performance.now();
    let done = false;
    const over = (tookMs: number) => {
      if (!done) latencies.tookMs.push(tookMs);
      done = true;
    };
    const asked = request({ host: "127.0.0.1", port, path, agent: false, timeout: patienceMs }, (answer) => {
      answer.resume();
      answer.on("end", () => over(performance.now() - beganMs));
    });
    asked.on("timeout", () => asked.destroy());
    asked.on("error", () => over(patienceMs));
    asked.end();
  };
  const timer = setInterval(ask, 100);
  return { latencies, stop: () => clearInterval(timer) };
}
