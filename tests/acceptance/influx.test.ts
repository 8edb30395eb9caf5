import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { InfluxSeries, readSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync, type MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startInfluxd } from "../contract/series-store/influxd.ts";
import { eventually, newSite, startProcess } from "./gateway-process.ts";

const main = new URL("../../gateway/src/main.mjs", import.meta.url).pathname;
const topic = "drumlin/1/saltmarsh-house/press/readings";
const series = "reading/press/ec-1[S/m]";
const stopsWithinMs = 10_000;

interface InfluxAnswer {
  readonly server: string | null;
  readonly failure: { readonly code: string; readonly todo: string } | null;
  readonly sent: number;
  readonly waiting: { readonly batches: number; readonly stretches: number };
}

let influx: Awaited<ReturnType<typeof startInfluxd>>;
let site: Awaited<ReturnType<typeof newSite>>;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let node: MqttClient;
let password: string;
let seq = 0;

const secretFile = () => join(site.folder, "influx-password");
const signIn = () => ["--influx-user", "keeper", "--influx-password-file", secretFile()];
const start = async () => {
  gateway = await startProcess(site, ["--influx", `${influx.target.url}/drumlin`, ...signIn()]);
  node = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    clientId: "press",
    username: "press",
    password: site.secrets.press as string,
  });
};

async function publish(packs: number): Promise<void> {
  for (let pack = 0; pack < packs; pack += 1) {
    seq += 1;
    // With times of its own: a burst with `up` would wait until its boot's clock is trusted.
    const t = Date.now() / 1000 + seq / 100;
    const records = [
      { n: "ec-1", u: "S/m", v: 0.04, t },
      { n: "t-1", u: "Cel", v: 18, t },
    ];
    await node.publishAsync(topic, JSON.stringify(records), { qos: 1 });
  }
}

async function countThere(): Promise<number> {
  let count = 0;
  for await (const rows of new InfluxSeries(influx.target).range(series, 0, 1e15)) count += rows.length;
  return count;
}

/** Of the series that the gateway's store holds, those that InfluxDB does not. */
async function missingThere(): Promise<readonly string[]> {
  const look = readSqliteSeries(site.data);
  const there = new Set(await new InfluxSeries(influx.target).names());
  const missing = look.names.filter((name) => !there.has(name));
  look.close();
  return missing;
}

const asked = () => gateway.json<InfluxAnswer>("/api/influx");

beforeAll(async () => {
  influx = await startInfluxd();
  site = await newSite(["press"]);
  password = (influx.target.signIn as { password: string }).password;
  writeFileSync(secretFile(), "wrong\n", { mode: 0o600 });
});
afterAll(async () => {
  await node?.endAsync(true);
  await gateway?.stop();
  await influx?.remove();
});

describe("a gateway with --influx, and a real InfluxDB 1.x", () => {
  it("a wrong password is said in a plain sentence; it starts all the same, is ready and stores", async () => {
    await start();
    const told = await eventually(
      async () => gateway.printed(),
      (text) => text.includes("InfluxDB at"),
    );
    expect(told).toContain(
      `InfluxDB at ${influx.target.url}/drumlin: InfluxDB does not take the sign-in (authorization failed). Look at the token, or at name and password`,
    );
    await publish(5);
    const ready = await eventually(
      () => gateway.api("/readyz"),
      ({ status }) => status === 200,
    );
    const { degraded } = (await ready.json()) as { degraded?: string[] };
    expect(degraded).toEqual([expect.stringMatching(/^InfluxDB: InfluxDB does not take the sign-in/)]);
    expect(await asked()).toMatchObject({
      server: `${influx.target.url}/drumlin`,
      failure: { code: "influx-unauthorised" },
    });
    const metrics = await (await gateway.api("/metrics")).text();
    expect(metrics).toMatch(/drumlin_influx_up 0/);
    expect(metrics).toMatch(/drumlin_influx_failures_total\{code="influx-unauthorised"\} [1-9]/);
  });

  it("with the right one after a restart, what was stored meanwhile is there", async () => {
    await node.endAsync(true);
    await gateway.stop();
    writeFileSync(secretFile(), `${password}\n`, { mode: 0o600 });
    await start();
    await publish(5);
    // A batch is written each 10 s, or when the gateway stops.
    expect(await eventually(countThere, (count) => count === 10)).toBe(10);
    await expect.poll(async () => (await asked()).failure).toBeNull();
    await expect.poll(async () => (await gateway.api("/readyz")).json()).toEqual({ ready: true });
    // In what order the gateway took packs is its own matter.
    await expect.poll(missingThere).toEqual(["arrival/press"]);
  });

  it("what came just before a stop in order is there when it has ended", async () => {
    await publish(25);
    await node.endAsync(true);
    await gateway.stop();
    expect(await countThere()).toBe(seq);
    await start();
  });

  it("while it takes connections and answers nothing, a stop ends in time and a start does; later all is there", async () => {
    process.kill(influx.pid() as number, "SIGSTOP");
    try {
      await publish(25);
      await node.endAsync(true);
      const begunMs = performance.now();
      expect(await gateway.stop()).toBe(0);
      expect(performance.now() - begunMs).toBeLessThan(stopsWithinMs);
      await start();
      await publish(25);
    } finally {
      process.kill(influx.pid() as number, "SIGCONT");
    }
    await node.endAsync(true);
    await gateway.stop();
    await start();
    expect(await eventually(countThere, (count) => count === seq)).toBe(seq);
  });

  it("a stretch is sent again after the database was lost", async () => {
    await influx.ask("DROP DATABASE drumlin");
    await influx.ask("CREATE DATABASE drumlin");
    expect(await countThere()).toBe(0);
    const done = spawnSync(
      process.execPath,
      [
        main,
        "export",
        "--to",
        "influx",
        "--data",
        site.data,
        "--influx",
        `${influx.target.url}/drumlin`,
        ...signIn(),
      ],
      { encoding: "utf8" },
    );
    expect(done.stdout).toMatch(/^\d+ points of \d+ series are in http:\/\/127\.0\.0\.1:\d+\/drumlin\.\n$/);
    expect(done.status).toBe(0);
    expect(await countThere()).toBe(seq);
    expect(await missingThere()).toEqual(["arrival/press"]);
  });

  it("what the store has no longer is read from it, in one answer with what it has", async () => {
    const beforeMs = Math.floor(Date.now() / 60_000) * 60_000 - 50 * 60_000;
    expect(await influx.write(`point,series=point/supply/conductivity25 v=300,q=1i ${beforeMs + 1000}`)).toBe(
      204,
    );
    const from = beforeMs - 5 * 60_000;
    const { t, max, count, flag } = await gateway.json<
      Record<"t" | "max" | "count" | "flag", (number | null)[]>
    >(`/api/points/supply/series?from=${from}&to=${from + 3_600_000}&buckets=60`);
    expect(max[t.indexOf(beforeMs)]).toBe(300);
    expect(count.filter((rows) => rows === 0).length).toBeGreaterThan(40);
    expect(flag[t.indexOf(beforeMs + 60_000)]).toBe(9);
    expect(Math.max(...max.slice(-10).map((value) => value ?? 0))).toBeGreaterThan(0);
  });

  it("secrets stand nowhere: not in the output, the folder, the answers", async () => {
    expect(gateway.printed()).not.toContain(password);
    for (const file of readdirSync(site.data))
      if (existsSync(join(site.data, file)) && file.endsWith(".json"))
        expect(readFileSync(join(site.data, file), "utf8")).not.toContain(password);
    expect(JSON.stringify(await asked())).not.toContain(password);
  });
});
