// InfluxDB is stopped for two minutes under 2,000 packs/s and killed once in mid-write: what the gateway's memory and its
// live events do meanwhile, and whether everything is there at the end (DRUMLIN_AWAY_S, DRUMLIN_PACKS_PER_S for less).
import { rmSync } from "node:fs";
import type { Socket } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import { readSqliteSeries } from "@drumlin/gateway/series";
import { eventually, newSite, startProcess } from "../acceptance/gateway-process.ts";
import { startInfluxd } from "../contract/series-store/influxd.ts";
import { figure } from "./figures.ts";
import { listenLive } from "./live-latency.ts";
import { cpuSeconds, residentMB } from "./processes.ts";
import { publishPacket } from "./publish-packet.ts";
import { signedIn } from "./sign-in-packet.ts";

const awayMs = Number(process.env.DRUMLIN_AWAY_S ?? 120) * 1000;
const perSecond = Number(process.env.DRUMLIN_PACKS_PER_S ?? 2000);
const eachPerSecond = 20;
const nodes = ["press", ...Array.from({ length: perSecond / eachPerSecond - 1 }, (_, at) => `node-${at}`)];

/** Packs that a node has under way before it waits. */
const inFlight = 40;
const ackBytes = 4;

/** Publishes at the rate, as far as the gateway acknowledges, until it is told to stop; the first node is on the line. */
function publisher(sockets: readonly Socket[], onPack: (atMs: number) => void) {
  let isOver = false;
  let packs = 0;
  const sent = sockets.map(() => 0);
  const acknowledged = sockets.map(() => 0);
  for (const [place, socket] of sockets.entries())
    socket.on("data", ({ length }) => {
      acknowledged[place] = (acknowledged[place] as number) + length / ackBytes;
    });
  const underWay = (place: number) => (sent[place] as number) - (acknowledged[place] as number);
  const running = (async () => {
    for (let seq = 0; !isOver; seq += 1) {
      const begun = performance.now();
      for (const [place, socket] of sockets.entries()) {
        if (underWay(place) >= inFlight) continue;
        sent[place] = (sent[place] as number) + 1;
        const atMs = Date.now();
        if (place === 0) onPack(atMs);
        socket.write(
          publishPacket(
            nodes[place] as string,
            seq,
            JSON.stringify([
              { boot: 1, seq, n: "t-1", u: "Cel", v: 18.2, t: atMs / 1000 },
              { n: "ec-1", u: "S/m", v: 0.0412, t: atMs / 1000 },
              { n: "ec-2", u: "S/m", v: 0.00005, t: atMs / 1000 },
            ]),
          ),
        );
        packs += 1;
      }
      await wait(Math.max(0, 1000 / eachPerSecond - (performance.now() - begun)));
    }
  })();
  return {
    packs: () => packs,
    async stop() {
      isOver = true;
      await running;
      while (sockets.some((_, place) => underWay(place) > 0)) await wait(50);
    },
  };
}

function countStored(data: string): number {
  const look = readSqliteSeries(data);
  let count = 0;
  for (const name of look.names.filter((one) => one.startsWith("reading/")))
    for (const rows of look.range(name, 0, Number.MAX_SAFE_INTEGER)) count += rows.length;
  look.close();
  return count;
}

/** Tells how the gateway does while InfluxDB is away, and whether both have the same at the end. */
export async function influxAway(): Promise<void> {
  const influx = await startInfluxd();
  const site = await newSite(nodes);
  const { password } = influx.target.signIn as { password: string };
  const start = () =>
    startProcess(site, ["--influx", `${influx.target.url}/drumlin`], {
      env: { DRUMLIN_INFLUX_USER: "keeper", DRUMLIN_INFLUX_PASSWORD: password },
    });
  const gateway = await start();
  const sockets: Socket[] = [];
  for (const node of nodes) sockets.push(await signedIn(gateway.mqtt, node, site.secrets[node] as string));
  const live = await listenLive(gateway.api, "supply");
  const publishing = publisher(sockets, live.published);
  const about = `${perSecond} packs/s of 3 records, ${nodes.length} nodes`;
  let begunPacks = 0;
  async function phase(name: string, ms: number): Promise<void> {
    live.forget();
    begunPacks = publishing.packs();
    let mostMB = 0;
    for (let left = ms; left > 0; left -= 1000) {
      await wait(Math.min(1000, left));
      mostMB = Math.max(mostMB, residentMB(gateway.pid));
    }
    const reached = Math.round((1000 * (publishing.packs() - begunPacks)) / ms);
    figure(`influx${name}RssMb`, mostMB, "MB", `the most, ${about}, ${reached} packs/s reached`);
    figure(`influx${name}LiveP99Ms`, live.share(0.99), "ms", `publish to live event, ${live.count()} packs`);
  }
  await phase("There", 30_000);
  await influx.stop();
  await phase("Away", awayMs);
  await influx.start();
  await phase("Back", 15_000);
  await influx.kill();
  await influx.start();
  await phase("Killed", 15_000);
  await publishing.stop();
  interface Answer {
    readonly waiting: { readonly batches: number; readonly stretches: number };
    readonly aside: readonly unknown[];
  }
  const begun = performance.now();
  // The last batch is written within 10 s.
  await wait(11_000);
  const last = await eventually(
    () => gateway.json<Answer>("/api/influx"),
    ({ waiting }) => waiting.batches === 0 && waiting.stretches === 0,
    300_000,
  );
  figure(
    "influxCaughtUpS",
    (performance.now() - begun) / 1000,
    "s",
    "after the last pack, 11 s of waiting in it",
  );
  for (const socket of sockets) socket.destroy();
  figure("influxCpuMicrosecondsPerPack", (1e6 * cpuSeconds(gateway.pid)) / publishing.packs(), "us", about);
  await live.stop();
  await gateway.stop();
  // What a slow machine had not judged yet is judged, stored and sent by the next start.
  const again = await start();
  await again.stop();
  const sending = await start();
  await eventually(
    () => sending.json<Answer>("/api/influx"),
    ({ waiting }) => waiting.batches === 0 && waiting.stretches === 0,
    120_000,
  );
  await sending.stop();
  const stored = countStored(site.data);
  const [, there] = (await influx.ask("SELECT count(v) FROM reading"))[0] ?? [];
  figure("influxMissingPoints", stored - Number(there), "1", `of ${stored} that the gateway stored`);
  figure("influxSetAside", last.aside.length, "1", "kinds of refused points");
  figure("influxUnstored", publishing.packs() * 3 - stored, "1", `readings of ${publishing.packs()} packs`);
  await influx.remove();
  rmSync(site.folder, { recursive: true, force: true });
}
