// `npm run soak -- attack [NAME…]`: each attack on a gateway of its own, while a good node sends and somebody asks
// /healthz. Prints p99 of both, how long a fresh sign-in took, memory before and after, and whether what was acknowledged
// is stored once. Beside each figure stands the same one from just before, without the attack (`control`), and their ratio;
// memory is what is in use of the main thread's heap after a collection (what grows there is kept), and what is resident, which
// also hangs on when V8 last collected; the goal goes by both. Below them p99 of a bare echo server at the same time: on a
// machine that does other work too, both tell what of it is the machine's. `kills` is kill -9 with a backlog (`kills.ts`).
// With DRUMLIN_ATTACKED=CHECKOUT another checkout is attacked.
import { spawn, spawnSync } from "node:child_process";
import { setTimeout as wait } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { lastAnswer } from "../../acceptance/gateway-process.ts";
import { asking, bareEcho, freshSignIn, goodNode } from "./good-node.ts";
import { killWithBacklog } from "./kills.ts";
import { residentMB, startTarget, type Target } from "./target.ts";

const attacker = fileURLToPath(new URL("./attacker.ts", import.meta.url));
/** When a node that was never here before comes, after the attack began. */
const freshAfterMs = [1500, 6000];
const goals = { pubackMs: 100, healthMs: 250, memoryShare: 0.2 };

function attackOf(name: string, target: Target): Promise<string> {
  const child = spawn(process.execPath, [attacker, name, String(target.http), String(target.mqtt)], {
    env: { ...process.env, DRUMS: target.drums, VIEWER: target.viewer, OPERATOR: target.operator },
    stdio: ["ignore", "pipe", "inherit"],
  });
  let text = "";
  child.stdout.on("data", (chunk: Buffer) => (text += chunk.toString()));
  return new Promise((resolve) => child.on("close", () => resolve(text.trim())));
}

/** Readings of the good node that history has. */
async function storedRows(target: Target, fromMs: number): Promise<number> {
  const query = `quantity=conductivity&from=${fromMs}&to=${Date.now() + 60_000}&buckets=1`;
  const answer = await fetch(`http://127.0.0.1:${target.http}/api/points/supply/series?${query}`, {
    headers: { authorization: `Bearer ${target.viewer}` },
  });
  const { count } = (await answer.json()) as { count: number[] };
  return count.reduce((sum, one) => sum + one, 0);
}

/** What anybody does once: threads that start with their first work have had it before memory is read. */
async function useOnce({ http, viewer }: Target): Promise<void> {
  const headers = { authorization: `Bearer ${viewer}`, "content-type": "application/json" };
  const base = `http://127.0.0.1:${http}`;
  await (await fetch(`${base}/api/docs`, { headers })).text();
  const body = JSON.stringify({ yaml: "drumlin: 1" });
  await (await fetch(`${base}/api/line/check`, { method: "POST", headers, body })).text();
}

/** What became of packs that were acknowledged and are not there: by their times, in the store of readings and of measurements. */
async function tellMissing(data: string, acknowledgedMs: readonly number[], refusals: string): Promise<void> {
  const series = await openSqliteSeries({ folder: data });
  for (const name of ["reading/press/ec-1[S/m]", "point/supply/conductivity"]) {
    const rows = new Map<number, SeriesRow>();
    for await (const piece of series.range(name, 0, Number.MAX_SAFE_INTEGER))
      for (const row of piece) rows.set(row.tMs, row);
    const missing = acknowledgedMs.filter((tMs) => !rows.has(tMs));
    const empty = [...rows.values()].filter(({ value }) => value === null);
    const places = missing.map((tMs) => `${tMs} (place ${acknowledgedMs.indexOf(tMs)})`);
    console.log(
      `      ${name}: ${rows.size} rows, missing ${places.join(" ") || "none"}; without a value ${JSON.stringify(empty)}`,
    );
  }
  console.log(`      refused: ${refusals.slice(0, 1500)}`);
  await series.close();
}

/** So long the good node and whoever asks are alone, before an attack. */
const controlMs = 10_000;

/** A figure beside its control. */
const beside = (value: number, control: number) =>
  `${Math.round(value)} ms (control ${Math.round(control)} ms, × ${(value / control).toFixed(1)})`;

const ms = (value: number | null) => (value === null ? "none in 20 s" : `${Math.round(value)} ms`);

async function run(name: string): Promise<boolean> {
  const target = await startTarget(name === "viewer-lists");
  const fromMs = Date.now();
  const good = goodNode(target.mqtt, target.press);
  await useOnce(target);
  await wait(4000);
  good.latencies.tookMs.length = 0;
  const health = asking(target.http, "/healthz");
  const echo = await bareEcho();
  await wait(controlMs);
  const heapBeforeMB = await target.heapMB();
  const beforeMB = residentMB(target.pid);
  const control = {
    puback: good.latencies.p99Ms,
    health: health.latencies.p99Ms,
    echo: echo.latencies.p99Ms,
  };
  for (const { latencies } of [good, health, echo]) latencies.tookMs.length = 0;
  let mostMB = beforeMB;
  const watching = setInterval(() => (mostMB = Math.max(mostMB, residentMB(target.pid))), 200);
  const attack = attackOf(name, target);
  const beganAtMs = performance.now();
  let fresh: number | null = 0;
  for (const afterMs of freshAfterMs) {
    await wait(Math.max(0, beganAtMs + afterMs - performance.now()));
    const tookMs = await freshSignIn(target.mqtt, "level", target.level);
    fresh = fresh === null || tookMs === null ? null : Math.max(fresh, tookMs);
  }
  const what = await attack;
  health.stop();
  echo.stop();
  await good.stop();
  // Threads that are idle give their memory back, and connections that began no more than a CONNECT are let go after 10 s.
  await wait(15_000);
  clearInterval(watching);
  const afterMB = residentMB(target.pid);
  const heapAfterMB = await target.heapMB();
  const { sent, acknowledged, drops } = good.counts();
  const askedMs = performance.now();
  const ask = () => storedRows(target, fromMs).catch(() => Number.NaN);
  const stored = await lastAnswer(ask, (rows) => rows >= acknowledged, 30_000);
  const storedAfterMs = performance.now() - askedMs;
  const refusals = await fetch(`http://127.0.0.1:${target.http}/api/rejections`, {
    headers: { authorization: `Bearer ${target.viewer}` },
  }).then((answer) => answer.text());
  const beganMs = performance.now();
  await target.stop();
  const isKept = stored >= acknowledged && stored <= sent;
  const isGood =
    isKept &&
    fresh !== null &&
    good.latencies.p99Ms <= goals.pubackMs &&
    health.latencies.p99Ms <= goals.healthMs &&
    heapAfterMB <= heapBeforeMB * (1 + goals.memoryShare) &&
    afterMB <= beforeMB * (1 + goals.memoryShare);
  console.log(
    [
      `${isGood ? "good" : "GOAL MISSED"}  ${name}: ${what}`,
      `PUBACK p99 ${beside(good.latencies.p99Ms, control.puback)}, dropped ${drops} times; fresh sign-in ${ms(fresh)}`,
      `/healthz p99 ${beside(health.latencies.p99Ms, control.health)}; heap in use ${Math.round(heapBeforeMB)} → ${Math.round(heapAfterMB)} MB, resident ${Math.round(beforeMB)} → ${Math.round(afterMB)}, at most ${Math.round(mostMB)}`,
      `a bare echo server meanwhile: p99 ${beside(echo.latencies.p99Ms, control.echo)}`,
      `${acknowledged} acknowledged, ${stored} stored of ${sent} sent: ${isKept ? "nothing lost, nothing twice" : "NOT KEPT"} (seen after ${ms(storedAfterMs)}); stop ${ms(performance.now() - beganMs)}`,
    ].join("\n      "),
  );
  if (!isKept) await tellMissing(target.data, good.acknowledgedMs, refusals);
  return isGood;
}

const asked = process.argv.slice(2);
const attacks = spawnSync(process.execPath, [attacker], { encoding: "utf8" }).stdout.trim().split(" ");
const known = [...attacks, "kills"];
const names = asked.length > 0 ? asked : known;
const unknown = names.filter((name) => !known.includes(name));
if (unknown.length > 0) {
  console.error(`No such attack: ${unknown.join(", ")}. There are ${known.join(", ")}.`);
  process.exit(2);
}
let missed = 0;
for (const name of names)
  if (
    !(await (name === "kills" ? killWithBacklog(Number(process.env.DRUMLIN_ATTACK_KILLS ?? 40)) : run(name)))
  )
    missed += 1;
console.log(`${names.length - missed} passed, ${missed} failed`);
process.exitCode = missed > 0 ? 1 : 0;
