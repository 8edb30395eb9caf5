// `npm run soak -- nodes [MINUTES]`: a gateway with 1,000 nodes, a pack of three records each 5 s, for an hour: whether its
// memory is flat and under 200 MB, how long checkpoints hold the path up, what they write, and whether all is stored.
import { readFileSync, rmSync } from "node:fs";
import type { Socket } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import { readSqliteSeries } from "@drumlin/gateway/series";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { cpuSeconds, residentMB } from "../bench/processes.ts";
import { publishPacket } from "../bench/publish-packet.ts";
import { signedIn } from "../bench/sign-in-packet.ts";

const nodes = 1000;
const periodMs = 5000;
const ackBytes = 4;
const minutes = Number(process.argv[2] ?? 60);
/** Goals. Flat: the mean of the last quarter is not over that of the second one by more than this. */
const maxMB = 200;
const maxGrowth = 1.05;
const maxPauseMs = 20;

let wrong = 0;
function say(isRight: boolean, what: string): void {
  if (!isRight) wrong += 1;
  console.log(`${isRight ? "good " : "WRONG"} ${what}`);
}

/** Bytes that a process had written to the disk so far (proc_pid_io(5)). */
const writtenMB = (pid: number): number =>
  Number(/^write_bytes: (\d+)/m.exec(readFileSync(`/proc/${pid}/io`, "utf8"))?.[1]) / 1e6;

const share = (values: readonly number[], of: number): number =>
  values.toSorted((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * of))] ?? Number.NaN;
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function packOf(seq: number): string {
  const t = Date.now() / 1000;
  return JSON.stringify([
    { boot: 1, seq, n: "t-1", u: "Cel", v: 18 + (seq % 50) / 100, t },
    { n: "ec-1", u: "S/m", v: 0.0412 + (seq % 70) / 1e6, t },
    { n: "ec-2", u: "S/m", v: 0.00005 + (seq % 30) / 1e7, t },
  ]);
}

const names = Array.from({ length: nodes }, (_, place) => `node-${place}`);
const site = await newSite(names);
// The first start after an installation keeps the compiler of types in memory (20 MB, and some in each thread): every later
// one finds what it made.
await (await startProcess(site)).stop();
const gateway = await startProcess(site);
const sockets: Socket[] = [];
for (const name of names) sockets.push(await signedIn(gateway.mqtt, name, site.secrets[name] as string));
let acknowledged = 0;
for (const socket of sockets) {
  socket.on("error", () => {});
  socket.on("data", ({ length }) => {
    acknowledged += length / ackBytes;
  });
}

const memoryMB: number[] = [];
const pausesMs: number[] = [];
const bytes: number[] = [];
let checkpoints = 0;
async function look(): Promise<void> {
  memoryMB.push(residentMB(gateway.pid));
  const text = await (await gateway.api("/metrics")).text();
  const of = (name: string) => Number(new RegExp(`^${name} (\\S+)`, "m").exec(text)?.[1]);
  const count = of("drumlin_checkpoints_total");
  if (count === checkpoints) return;
  checkpoints = count;
  pausesMs.push(of("drumlin_checkpoint_pause_seconds") * 1000);
  bytes.push(of("drumlin_checkpoint_bytes"));
}

const begunMs = performance.now();
const endMs = begunMs + minutes * 60_000;
const cpuBefore = cpuSeconds(gateway.pid);
const writtenBefore = writtenMB(gateway.pid);
// Ten looks a quarter at least, also where it runs for less than a minute.
const looking = setInterval(() => void look().catch(() => {}), Math.min(4000, (minutes * 60_000) / 40));
const turnMs = periodMs / (nodes / 50);
let sent = 0;
let dueMs = begunMs;
for (let seq = 0; performance.now() < endMs; seq += 1) {
  const payload = packOf(seq);
  for (const [place, socket] of sockets.entries()) {
    socket.write(publishPacket(names[place] as string, seq, payload));
    sent += 1;
    if (place % 50 !== 49) continue;
    dueMs += turnMs;
    await wait(Math.max(0, dueMs - performance.now()));
  }
  if (seq % 60 === 59)
    console.log(
      `${((performance.now() - begunMs) / 60_000).toFixed(0)} min: ${Math.round(memoryMB.at(-1) ?? 0)} MB, ` +
        `pause ${(pausesMs.at(-1) ?? 0).toFixed(1)} ms, ${Math.round((bytes.at(-1) ?? 0) / 1000)} kB a checkpoint`,
    );
}
const seconds = (performance.now() - begunMs) / 1000;
clearInterval(looking);
const untilMs = performance.now() + 30_000;
while (acknowledged < sent && performance.now() < untilMs) await wait(100);

const quarter = Math.max(1, Math.floor(memoryMB.length / 4));
const second = mean(memoryMB.slice(quarter, 2 * quarter));
const last = mean(memoryMB.slice(-quarter));
say(acknowledged === sent, `${sent} packs in ${seconds.toFixed(0)} s, ${acknowledged} acknowledged`);
say(
  Math.max(...memoryMB) < maxMB,
  `memory: at most ${Math.round(Math.max(...memoryMB))} MB, goal ${maxMB} MB`,
);
say(
  last < second * maxGrowth,
  `memory is flat: ${second.toFixed(1)} MB in the second quarter, ${last.toFixed(1)} MB in the last`,
);
say(
  share(pausesMs, 0.99) < maxPauseMs,
  `${pausesMs.length} checkpoints hold the path up for ${share(pausesMs, 0.5).toFixed(1)} ms, p99 ${share(pausesMs, 0.99).toFixed(1)} ms, ` +
    `at most ${Math.max(...pausesMs).toFixed(1)} ms`,
);
console.log(
  `a checkpoint writes ${Math.round(share(bytes, 0.5) / 1000)} kB of rows, at most ${Math.round(Math.max(...bytes) / 1000)} kB; ` +
    `all files together ${((writtenMB(gateway.pid) - writtenBefore) / (seconds / 60)).toFixed(1)} MB a minute`,
);
console.log(
  `processor: ${(((cpuSeconds(gateway.pid) - cpuBefore) / seconds) * 100).toFixed(1)} % of one core`,
);
for (const socket of sockets) socket.destroy();
await gateway.stop();
const series = readSqliteSeries(site.data);
let stored = 0;
for (const name of series.names.filter((one) => one.startsWith("reading/")))
  for (const rows of series.range(name, 0, Number.MAX_SAFE_INTEGER)) stored += rows.length;
series.close();
say(stored === 3 * sent, `${stored} readings are stored of ${3 * sent}`);
rmSync(site.folder, { recursive: true, force: true });
console.log(`${wrong === 0 ? "1 passed, 0 failed" : `0 passed, 1 failed (${wrong} steps)`}`);
process.exitCode = wrong === 0 ? 0 : 1;
process.exit();
