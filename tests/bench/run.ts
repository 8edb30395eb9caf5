// npm run bench [-- PART …] [--json FILE]: figures of one run on this machine, on loopback, bounded; each has a name.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { createPipeline, startGateway } from "@drumlin/gateway/app";
import { pure25Column } from "@drumlin/gateway/water";
import { connectAsync } from "mqtt";
import { newSite, smallestLine, startProcess } from "../acceptance/gateway-process.ts";
import { figure, writeFigures } from "./figures.ts";
import { houseHistory } from "./house-history.ts";
import { manyNodes } from "./many-nodes.ts";
import { plainScript } from "./plain-script.ts";
import { yearOfSeries } from "./year-of-series.ts";

const publisher = fileURLToPath(new URL("./publisher.ts", import.meta.url));
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
  for (const entry of entries)
    pipeline.push(entry, ({ kind }) => {
      if (kind === "measurement") measurements += 1;
    });
  const seconds = (performance.now() - begun) / 1000;
  figure("path-readings", (many * 3) / seconds, "1/s", `from raw packs, ${measurements} measurements`);
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
  const stream = await gateway.api("/api/live?every=0");
  const reader = (stream.body as ReadableStream<Uint8Array>).getReader();
  const sentAt = new Map<string, number>();
  const latencies: number[] = [];
  const listening = (async () => {
    const decoder = new TextDecoder();
    let text = "";
    for (;;) {
      const { value, done } = await reader.read();
      if (done) return;
      const nowMs = performance.now();
      text += decoder.decode(value, { stream: true });
      for (let end = text.indexOf("\n\n"); end >= 0; end = text.indexOf("\n\n")) {
        const at = /"id":"supply".*?"at":"([^"]+)"/.exec(text.slice(0, end))?.[1];
        const sent = at === undefined ? undefined : sentAt.get(at);
        if (at !== undefined && sent !== undefined) {
          latencies.push(nowMs - sent);
          sentAt.delete(at);
        }
        text = text.slice(end + 2);
      }
    }
  })();
  for (let seq = 0; seq < 400; seq += 1) {
    const atMs = Date.now();
    sentAt.set(new Date(atMs).toISOString(), performance.now());
    client.publish(topic, pack(seq, atMs), { qos: 1 });
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  await new Promise((resolve) => setTimeout(resolve, 300));
  await reader.cancel();
  await listening;
  latencies.sort((a, b) => a - b);
  const share = (of: number) => latencies[Math.floor(latencies.length * of)] ?? Number.NaN;
  figure(
    "live-event-p50",
    share(0.5),
    "ms",
    `publish to live event at 50 packs/s, ${latencies.length} packs`,
  );
  figure("live-event-p99", share(0.99), "ms", "the same");
  await client.endAsync();
  await gateway.stop();
  begun = performance.now();
  const again = await startProcess(site);
  figure("start-again", performance.now() - begun, "ms", "start to ready, after that run");
  await again.stop();
}

const packs = 40_000;

/** Publishes with 400 packs in flight, by a process of its own; gives the seconds until all were acknowledged. */
function publishAll(port: number, username = "", password = ""): Promise<number> {
  const child = spawn(
    process.execPath,
    [publisher, `${port}`, username, password, topic, `${packs}`, "400", `${Date.now() - packs}`],
    { stdio: ["ignore", "pipe", "inherit"] },
  );
  return new Promise((resolve, reject) => {
    let text = "";
    child.stdout.on("data", (chunk: Buffer) => {
      text += chunk.toString();
    });
    child.on("close", (code) =>
      code === 0 ? resolve(Number(text)) : reject(new Error("the publisher failed")),
    );
  });
}

async function durable(): Promise<number> {
  const site = await newSite(["press"]);
  // The node's rate is lifted here only: this measures the gateway, not the limit.
  const gateway = await startGateway({
    data: site.data,
    lineYaml: readFileSync(site.line, "utf8"),
    http: { host: "127.0.0.1", port: 0 },
    mqtt: { host: "127.0.0.1", port: 0 },
    rate: { packsPerSecond: 1e6, bytesPerSecond: 1e9, burstSeconds: 10 },
    log: console.error,
  });
  const seconds = await publishAll(gateway.mqttPort, "press", site.secrets.press);
  await gateway.stop();
  return packs / seconds;
}

async function againstPlainScript(): Promise<void> {
  const ours: number[] = [];
  const theirs: number[] = [];
  for (let round = 0; round < 3; round += 1) {
    ours.push(await durable());
    const plain = await plainScript((port) => publishAll(port), packs);
    if (plain) theirs.push(plain.packsPerSecond);
  }
  const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
  figure("durable-packs", median(ours), "1/s", "packs of 3 records, QoS 1, 400 in flight, median of 3");
  if (theirs.length === 0) console.log("plain script: not run, Mosquitto or InfluxDB can't be had here");
  else {
    const plain = median(theirs);
    figure("plain-script", plain, "1/s", "MQTT.js on Mosquitto, JSON.parse, InfluxDB client, same publisher");
    figure("durable-to-plain", median(ours) / plain, "1", "of the two above");
  }
  figure(
    "bench-memory",
    process.memoryUsage().rss / 1e6,
    "MB",
    "at the end: gateway, and the script's client",
  );
}

const parts = {
  compensations,
  replay,
  houseHistory,
  gatewayRun,
  manyNodes,
  yearOfSeries,
  againstPlainScript,
};
const { values, positionals } = parseArgs({ allowPositionals: true, options: { json: { type: "string" } } });
for (const [name, part] of Object.entries(parts))
  if (positionals.length === 0 || positionals.includes(name)) await part();
if (values.json) writeFigures(values.json);
process.exit(0);
