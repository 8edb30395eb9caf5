// npm run bench [-- PART …] [--json FILE]: figures of one run on this machine, on loopback, bounded; each has a name.
import "./kept-compiled.ts";
import { parseArgs } from "node:util";
import { createPipeline } from "@drumlin/gateway/app";
import { pure25Column } from "@drumlin/gateway/water";
import { connectAsync } from "mqtt";
import { newSite, smallestLine, startProcess } from "../acceptance/gateway-process.ts";
import { againstPlainScript } from "./durable.ts";
import { figure, writeFigures } from "./figures.ts";
import { houseHistory } from "./house-history.ts";
import { influxAway } from "./influx-away.ts";
import { listenLive } from "./live-latency.ts";
import { liveWhileDeriving } from "./live-while-deriving.ts";
import { manyNodes } from "./many-nodes.ts";
import { notifications } from "./notifications.ts";
import { outsideBroker } from "./outside-broker.ts";
import { phoneFrames } from "./phone-frames.ts";
import { replayStored } from "./replay-stored.ts";
import { yearOfSeries } from "./year-of-series.ts";

const topic = "drumlin/1/saltmarsh-house/press/readings";
const pack = (seq: number, atMs: number) =>
  JSON.stringify([
    { boot: 1, seq, n: "t-1", u: "Cel", v: 18.2, t: atMs / 1000 },
    { n: "ec-1", u: "S/m", v: 0.0412, t: atMs / 1000 },
    { n: "ec-2", u: "S/m", v: 0.00005, t: atMs / 1000 },
  ]);

function compensations(): void {
  const size = 1_000_000;
  const kappa = new Float64Array(size).map((_, place) => 0.06 + (place % 1000) / 50);
  const tC = new Float64Array(size).map((_, place) => (place % 350) / 10);
  const out = new Float64Array(size);
  const rates = Array.from({ length: 7 }, () => {
    const begun = performance.now();
    pure25Column(kappa, tC, out);
    return size / (performance.now() - begun) / 1000;
  }).sort((a, b) => a - b);
  figure("compensation", rates[3] ?? Number.NaN, "10*6/s", "over columns, median of 7 runs");
}

function replay(): void {
  const pipeline = createPipeline();
  const beginMs = Date.UTC(2026, 0, 1);
  pipeline.push({ seq: 1, receivedAt: beginMs, kind: "line", yaml: smallestLine }, () => {});
  const many = 100_000;
  const encoder = new TextEncoder();
  const entries = Array.from({ length: many }, (_, place) => ({
    seq: place + 2,
    receivedAt: beginMs + place * 1000,
    kind: "message" as const,
    topic,
    payload: encoder.encode(pack(place, beginMs + place * 1000)),
  }));
  let measurements = 0;
  const begun = performance.now();
  const cpuBefore = process.cpuUsage();
  for (const entry of entries)
    pipeline.push(entry, ({ kind }) => {
      if (kind === "measurement") measurements += 1;
    });
  const seconds = (performance.now() - begun) / 1000;
  const cpu = process.cpuUsage(cpuBefore);
  figure("replayRawCpuMicroseconds", (cpu.user + cpu.system) / (many * 3), "us", "a reading, all threads");
  figure("replayRawPerSecond", (many * 3) / seconds, "1/s", `from raw packs, ${measurements} measurements`);
}

async function gatewayRun(): Promise<void> {
  const site = await newSite(["press"]);
  let begun = performance.now();
  const gateway = await startProcess(site);
  figure("start-empty", performance.now() - begun, "ms", "start to ready, empty folder");
  const client = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "press",
    password: site.secrets.press as string,
  });

  // Latency at the rate that a node may send for long: 50 packs/s.
  const live = await listenLive(gateway.api, "supply");
  for (let seq = 0; seq < 400; seq += 1) {
    const atMs = Date.now();
    live.published(atMs);
    client.publish(topic, pack(seq, atMs), { qos: 1 });
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  await new Promise((resolve) => setTimeout(resolve, 300));
  await live.stop();
  figure("liveP50Ms", live.share(0.5), "ms", `publish to live event at 50 packs/s, ${live.count()} packs`);
  figure("liveP99Ms", live.share(0.99), "ms", "the same");
  await client.endAsync();
  await gateway.stop();
  begun = performance.now();
  const again = await startProcess(site);
  figure("start-again", performance.now() - begun, "ms", "start to ready, after that run");
  await again.stop();
}

const parts = {
  compensations,
  replay,
  replayStored,
  houseHistory,
  gatewayRun,
  liveWhileDeriving,
  outsideBroker,
  manyNodes,
  yearOfSeries,
  againstPlainScript,
  influxAway,
  notifications,
  phoneFrames,
};
const { values, positionals } = parseArgs({ allowPositionals: true, options: { json: { type: "string" } } });
const unknown = positionals.filter((name) => !Object.hasOwn(parts, name));
if (unknown.length > 0) {
  console.error(`No part is named ${unknown.join(", ")}. There are: ${Object.keys(parts).join(", ")}.`);
  process.exit(2);
}
for (const [name, part] of Object.entries(parts))
  if (positionals.length === 0 || positionals.includes(name)) await part();
if (values.json) writeFigures(values.json);
process.exit(0);
