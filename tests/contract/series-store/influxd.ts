import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { InfluxTarget } from "@drumlin/gateway/series";
import { freePort } from "../../acceptance/mosquitto.ts";
import { cutTornLogs } from "./torn-logs.ts";

const program =
  process.env.DRUMLIN_INFLUXD ??
  ["/usr/bin/influxd", "/usr/sbin/influxd"].find((path) => existsSync(path)) ??
  "influxd";

const user = "keeper";
const password = "a long one of our own";

async function until(right: () => Promise<boolean>): Promise<void> {
  for (let attempt = 0; attempt < 4800; attempt += 1) {
    if (await right().catch(() => false)) return;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error("InfluxDB did not start.");
}

/** A real InfluxDB 1.x on loopback ports and in a folder of its own, whose one user signs in. */
export async function startInfluxd(database = "drumlin") {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-influx-"));
  const [port, backupPort] = [await freePort(), await freePort()];
  const file = join(folder, "influxdb.conf");
  writeFileSync(
    file,
    `reporting-disabled = true
bind-address = "127.0.0.1:${backupPort}"
[meta]
dir = "${folder}/meta"
[data]
dir = "${folder}/data"
wal-dir = "${folder}/wal"
query-log-enabled = false
[http]
bind-address = "127.0.0.1:${port}"
auth-enabled = true
log-enabled = false
[monitor]
store-enabled = false
[logging]
level = "error"
`,
  );
  const url = `http://127.0.0.1:${port}`;
  let child: ChildProcess | null = null;
  let torn = 0;
  const runs = () => child !== null && child.exitCode === null && child.signalCode === null;
  async function start(): Promise<void> {
    if (runs()) return;
    torn += cutTornLogs(folder);
    child = spawn(program, ["-config", file], { stdio: "ignore" });
    await until(async () => (await fetch(`${url}/ping`)).ok);
  }
  const end = (signal: NodeJS.Signals) =>
    new Promise<void>((resolve) => {
      if (!child || !runs()) return resolve();
      child.once("exit", () => resolve());
      child.kill(signal);
    });
  const authorization = `Basic ${Buffer.from(`${user}:${password}`).toString("base64")}`;
  /** Asks one InfluxQL statement as its administrator; gives the rows of the first series. */
  async function ask(statement: string): Promise<readonly (readonly unknown[])[]> {
    const answer = await fetch(`${url}/query?${new URLSearchParams({ db: database, epoch: "ms" })}`, {
      method: "POST",
      headers: { authorization, "content-type": "application/x-www-form-urlencoded" },
      body: new URLSearchParams({ q: statement }).toString(),
    });
    const { error, results = [] } = (await answer.json()) as {
      error?: string;
      results?: { error?: string; series?: { values: unknown[][] }[] }[];
    };
    const fault = error ?? results[0]?.error;
    if (fault !== undefined) throw new Error(`${fault}: ${statement}`);
    return results[0]?.series?.[0]?.values ?? [];
  }
  await start();
  await ask(`CREATE USER ${user} WITH PASSWORD '${password}' WITH ALL PRIVILEGES`);
  await ask(`CREATE DATABASE ${database}`);
  const target: InfluxTarget = {
    url,
    database,
    retentionPolicy: null,
    signIn: { kind: "password", user, password },
  };
  return {
    target,
    ask,
    /** Where it keeps everything. */
    folder,
    /** Writes lines as another client would. */
    async write(lines: string): Promise<number> {
      const query = new URLSearchParams({ db: database, precision: "ms" });
      return (
        await fetch(`${url}/write?${query}`, { method: "POST", headers: { authorization }, body: lines })
      ).status;
    },
    /** How many of its logs a kill has torn so far. */
    torn: () => torn,
    /** Its process; undefined before the first start. */
    pid: () => child?.pid,
    /** Starts it, if it does not run. */
    start,
    stop: () => end("SIGTERM"),
    kill: () => end("SIGKILL"),
    /** Ends it for good, its folder with it. */
    async remove() {
      await end("SIGTERM");
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
