// Publish to live event at 1,000 packs/s with three pages open, before and while the past is derived anew: the gateway is a
// process of its own. DRUMLIN_DAYS: how much past there is; of 10 days, derived in 2 s, the 99th percentile was
// the second worst of a hundred events.
import { readFileSync, rmSync } from "node:fs";
import { connect, type Socket } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import { startGateway } from "@drumlin/gateway/app";
import mqttPacket from "mqtt-packet";
import { eventually, newSite, startProcess } from "../acceptance/gateway-process.ts";
import { figure } from "./figures.ts";
import { listenLive } from "./live-latency.ts";
import { cpuSeconds } from "./processes.ts";
import { signInPacket } from "./sign-in-packet.ts";

const nodes = 20;
/** As fast as a node may send for long. */
const everyMs = 20;
const calmMs = 10_000;
const maxDerivingMs = 120_000;
const days = Number(process.env.DRUMLIN_DAYS ?? 60);
const topicOf = (node: string) => `drumlin/1/saltmarsh-house/${node}/readings`;

const pack = (boot: number, seq: number, atMs: number) =>
  JSON.stringify([
    { boot, seq, n: "t-1", u: "Cel", v: 18.2, t: atMs / 1000 },
    { n: "ec-1", u: "S/m", v: 0.0412, t: atMs / 1000 },
    { n: "ec-2", u: "S/m", v: 0.00005, t: atMs / 1000 },
  ]);

type Site = Awaited<ReturnType<typeof newSite>>;

/** A gateway's life of so many days at a pack each 5 s, until now. */
async function livePast({ data, line }: Site): Promise<number> {
  const endMs = Date.now();
  const beginMs = endMs - days * 86_400_000;
  const gateway = await startGateway({
    data,
    lineYaml: readFileSync(line, "utf8"),
    http: { host: "127.0.0.1", port: 0 },
    mqtt: { host: "127.0.0.1", port: 0 },
    log: () => {},
    async before(take) {
      let taken: Promise<number>[] = [];
      for (let seq = 0; beginMs + seq * 5000 < endMs; seq += 1) {
        const atMs = beginMs + seq * 5000;
        taken.push(take(topicOf("press"), Buffer.from(pack(1, seq, atMs)), atMs + 40));
        if (taken.length < 2000) continue;
        await Promise.all(taken);
        taken = [];
      }
      await Promise.all(taken);
    },
  });
  await gateway.stop();
  return beginMs;
}

async function signedIn(port: number, node: string, secret: string): Promise<Socket> {
  const socket = connect(port, "127.0.0.1");
  socket.setNoDelay(true);
  socket.on("error", () => {});
  socket.write(signInPacket(node, node, secret));
  await new Promise((resolve) => socket.once("data", resolve));
  socket.resume();
  return socket;
}

/** Sends 1,000 packs a second until it is told to stop. */
function sending(
  sockets: readonly (readonly [node: string, socket: Socket])[],
  told: (atMs: number) => void,
) {
  let seq = 0;
  const timer = setInterval(() => {
    const atMs = Date.now();
    seq += 1;
    for (const [node, socket] of sockets) {
      if (node === "press") told(atMs);
      socket.write(
        mqttPacket.generate({
          cmd: "publish",
          topic: topicOf(node),
          qos: 1,
          retain: false,
          dup: false,
          messageId: (seq % 65_000) + 1,
          payload: pack(2, seq, atMs),
        }),
      );
    }
  }, everyMs);
  return { stop: () => clearInterval(timer), packs: () => seq * sockets.length };
}

/** Delays of live events, calm and while a calibration for the past derives everything anew. */
export async function liveWhileDeriving(): Promise<void> {
  const names = ["press", ...Array.from({ length: nodes - 1 }, (_, index) => `node-${index}`)];
  const site = await newSite(names);
  const beginMs = await livePast(site);
  const gateway = await startProcess(site);
  const pages = await Promise.all([1, 2, 3].map(() => listenLive(gateway.api, "supply")));
  const live = pages[0] as (typeof pages)[number];
  const sockets = await Promise.all(
    names.map(
      async (name) => [name, await signedIn(gateway.mqtt, name, site.secrets[name] as string)] as const,
    ),
  );
  const sender = sending(sockets, (atMs) => live.published(atMs));
  await wait(3000);
  live.forget();
  const before = { packs: sender.packs(), cpuS: cpuSeconds(gateway.pid) };
  await wait(calmMs);
  const packs = sender.packs() - before.packs;
  const cpuMicroseconds = ((cpuSeconds(gateway.pid) - before.cpuS) * 1e6) / packs;
  const about = `1,000 packs/s of ${nodes} nodes, 3 pages`;
  const heard = `${live.count()} events of ${packs / nodes} packs of the node that is looked at`;
  figure("live1000P99Ms", live.share(0.99), "ms", `publish to live event, ${about}, ${heard}`);
  figure("live1000CpuMicroseconds", cpuMicroseconds, "us", `of the gateway, a pack, ${about}`);
  live.forget();
  const begunMs = performance.now();
  const answer = await gateway.api("/api/calibrations", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({
      channel: "press/ec-2",
      points: [{ read: 0.5, true: 0.6 }],
      validFrom: new Date(beginMs).toISOString(),
    }),
  });
  if (!answer.ok) throw new Error(`the calibration was not taken: ${await answer.text()}`);
  await eventually(
    async () => gateway.printed().includes("derived since"),
    (done) => done,
    maxDerivingMs,
  );
  const seconds = (performance.now() - begunMs) / 1000;
  const isDone = gateway.printed().includes("derived since");
  figure(
    "liveP99WhileDerivingMs",
    live.share(0.99),
    "ms",
    `the same while ${days} days are derived, ${live.count()}`,
  );
  figure(
    "deriveSeconds",
    isDone ? seconds : Number.NaN,
    "s",
    `${days} days of 3 channels at 5 s beside that`,
  );
  sender.stop();
  for (const [, socket] of sockets) socket.destroy();
  for (const page of pages) await page.stop();
  await gateway.stop();
  rmSync(site.folder, { recursive: true, force: true });
}
