// `npm run soak -- backup [TIMES]`: copies of a gateway that is flooded by one node, begun and killed again and again, then a
// whole one; put back, killed again and again, then whole. What had its PUBACK before the whole copy began is in it, once.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { readSqliteSeries } from "@drumlin/gateway/series";
import { newSite, smallestLine, startProcess } from "../acceptance/gateway-process.ts";
import { goodNode } from "./attack/good-node.ts";
import { startTarget } from "./attack/target.ts";

const times = Number(process.argv[2] ?? 6);
const main = fileURLToPath(new URL("../../gateway/src/main.mjs", import.meta.url));
const attacker = fileURLToPath(new URL("./attack/attacker.ts", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "drumlin-copies-"));
let wrong = 0;
const say = (isRight: boolean, what: string) => {
  if (!isRight) wrong += 1;
  console.log(`${isRight ? "good " : "WRONG"} ${what}`);
};
const closed = (child: ChildProcess) => new Promise<number | null>((resolve) => child.on("close", resolve));
const drumlin = (...args: string[]) =>
  spawn(process.execPath, [main, ...args], { stdio: ["ignore", "ignore", "pipe"] });

/** Runs a command and kills it so many ms after it began with a file, or lets it end; gives what it said. */
async function run(
  args: string[],
  killAfterMs: number | null,
): Promise<{ code: number | null; said: string }> {
  const child = drumlin(...args);
  let said = "";
  child.stderr?.on("data", (chunk: Buffer) => {
    if (said === "" && killAfterMs !== null) setTimeout(() => child.kill("SIGKILL"), killAfterMs);
    said += chunk.toString();
  });
  return { code: await closed(child), said };
}

const target = await startTarget();
const node = goodNode(target.mqtt, target.press);
await wait(2000);
const flood = spawn(
  process.execPath,
  [attacker, "one-node-floods", String(target.http), String(target.mqtt)],
  { env: { ...process.env, DRUMS: target.drums }, stdio: "ignore" },
);
node.latencies.tookMs.length = 0;
let cut = 0;
for (let time = 0; time < times; time += 1) {
  const to = join(folder, `cut-${time}`);
  const { code } = await run(["backup", "--data", target.data, "--to", to], (time * 37) % 150);
  if (code === 0) continue;
  cut += 1;
  const { said } = await run(["restore", "--from", to, "--data", join(folder, `of-cut-${time}`)], null);
  if (!said.includes("holds no whole backup")) say(false, `a copy that was cut off was put back: ${said}`);
}
say(cut > 0, `${cut} of ${times} copies killed; none of them is taken for a whole one`);
const before = node.acknowledgedMs.length;
const whole = join(folder, "whole");
const beganMs = performance.now();
const { code } = await run(["backup", "--data", target.data, "--to", whole], null);
say(
  code === 0,
  `a whole one in ${Math.round(performance.now() - beganMs)} ms, ${before} packs acknowledged before it`,
);
await node.stop();
say(
  true,
  `PUBACK p99 meanwhile ${Math.round(node.latencies.p99Ms)} ms, dropped ${node.counts().drops} times`,
);
flood.kill();
await target.stop();

const data = join(folder, "data");
let [restoresCut, refused] = [0, 0];
for (let time = 0; time < times; time += 1) {
  const { code: ended } = await run(["restore", "--from", whole, "--data", data], (time * 13) % 60);
  if (ended === 0) {
    rmSync(data, { recursive: true });
    continue;
  }
  restoresCut += 1;
  if (existsSync(join(data, "restoring", "manifest.json"))) refused += 1;
  else if (readdirSync(data).some((name) => name.endsWith(".sqlite")))
    say(false, "half a folder, and no mark");
}
say(
  restoresCut > 0,
  `${restoresCut} of ${times} restores killed: ${refused} left a folder that no gateway starts on, the rest none`,
);
const last = await run(["restore", "--from", whole, "--data", data], null);
say(last.code === 0, "then a whole one into the same folder");
const site = await newSite([], smallestLine);
const gateway = await startProcess({ line: site.line, data });
say((await gateway.stop()) === 0, "a gateway starts on it and stops in order");
const look = readSqliteSeries(data);
const rows = [...look.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER)]
  .flat()
  .map(({ tMs }) => tMs);
look.close();
const stored = new Set(rows);
const lost = node.acknowledgedMs.slice(0, before).filter((tMs) => !stored.has(tMs));
say(
  lost.length === 0 && stored.size === rows.length,
  `${before} acknowledged before the copy, ${rows.length} in it, ${lost.length} lost, ${rows.length - stored.size} twice`,
);
rmSync(folder, { recursive: true, force: true });
console.log(wrong === 0 ? "1 passed, 0 failed" : `0 passed, 1 failed (${wrong} steps)`);
process.exit(wrong === 0 ? 0 : 1);
