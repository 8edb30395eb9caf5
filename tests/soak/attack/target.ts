import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openLogbook } from "@drumlin/gateway/logbook";
import { smallestLine } from "../../acceptance/gateway-process.ts";
import { days, writeYear } from "../../bench/year-of-records.ts";

/** The checkout that is attacked: this one, or an older one for the figures before (DRUMLIN_ATTACKED). */
const root = process.env.DRUMLIN_ATTACKED ?? fileURLToPath(new URL("../../../", import.meta.url));
const main = join(root, "gateway/src/main.mjs");

const stopWithinMs = 15_000;
/** Loaded before the gateway: it says on demand how much of the heap is in use. */
const collector = new URL("./collector.mjs", import.meta.url).href;

/** A gateway under attack, with what its nodes and programs need. */
export interface Target {
  readonly http: number;
  readonly mqtt: number;
  readonly pid: number;
  readonly data: string;
  readonly press: string;
  readonly drums: string;
  /** Secret of a node that has not signed in yet. */
  readonly level: string;
  readonly viewer: string;
  readonly operator: string;
  /** What is in use of the main thread's heap once what nobody needs is thrown away, MB. */
  heapMB(): Promise<number>;
  stop(): Promise<number | null>;
}

function command(...args: string[]): string {
  const done = spawnSync(process.execPath, [main, ...args], { encoding: "utf8" });
  if (done.status !== 0) throw new Error(`${args.join(" ")}: ${done.stderr}`);
  return done.stdout.trim();
}

function portsOf(child: ChildProcess): Promise<{ http: number; mqtt: number }> {
  let text = "";
  return new Promise((resolve, reject) => {
    child.stdout?.on("data", (chunk: Buffer) => {
      text += chunk.toString();
      const match = /https?:\/\/[\w.]+:(\d+)\/ {3}MQTT: port (\d+)/.exec(text);
      if (match) resolve({ http: Number(match[1]), mqtt: Number(match[2]) });
    });
    child.on("close", (code) => reject(new Error(`the gateway ended with ${code}: ${text}`)));
  });
}

/**
 * Starts a gateway on a fresh folder, made by its own command line, so that an older one can be attacked too; `hasLived`:
 * with a logbook of a year.
 */
export async function startTarget(hasLived = false): Promise<Target> {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-attack-"));
  const line = join(folder, "line.yaml");
  const data = join(folder, "data");
  writeFileSync(line, smallestLine);
  const secretOf = (node: string) =>
    (command("node", "add", node, "--data", data).match(/[\w-]{22}/g) ?? []).at(-1) as string;
  const press = secretOf("press");
  const drums = secretOf("drums");
  const level = secretOf("level");
  const tokenOf = (...more: string[]) =>
    /drumlin_[\w-]+/.exec(command("token", "add", ...more, "--data", data))?.[0] as string;
  const viewer = tokenOf("wall");
  const operator = tokenOf("desk", "--role", "operator");
  if (hasLived) {
    const logbook = openLogbook({ folder: data });
    writeYear(logbook, Date.now() - days * 86_400_000);
    logbook.close();
  }
  const listen = ["--http", "127.0.0.1:0", "--mqtt", "127.0.0.1:0"];
  // DRUMLIN_ATTACK_PROFILE=FOLDER leaves a CPU profile of each gateway there.
  const folderOfProfiles = process.env.DRUMLIN_ATTACK_PROFILE;
  const profiling = folderOfProfiles ? ["--cpu-prof", `--cpu-prof-dir=${folderOfProfiles}`] : [];
  const child = spawn(
    process.execPath,
    [...profiling, "--import", collector, main, "run", "--line", line, "--data", data, ...listen],
    { stdio: ["ignore", "pipe", "ignore", "ipc"] },
  );
  const ended = new Promise<number | null>((resolve) => child.on("close", resolve));
  const ports = await portsOf(child);
  return {
    ...ports,
    pid: child.pid as number,
    data,
    press,
    drums,
    level,
    viewer,
    operator,
    heapMB: () =>
      new Promise((resolve) => {
        child.once("message", (bytes) => resolve(Number(bytes) / 1e6));
        child.send("collect");
      }),
    stop() {
      child.kill("SIGTERM");
      const hard = setTimeout(() => child.kill("SIGKILL"), stopWithinMs);
      return ended.finally(() => clearTimeout(hard));
    },
  };
}

/** Resident memory of a process, MB. */
export function residentMB(pid: number): number {
  const match = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, "utf8"));
  return Number(match?.[1]) / 1000;
}
