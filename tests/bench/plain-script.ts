// What the gateway is measured against: an MQTT.js subscriber on Mosquitto that parses JSON and hands three points to
// the InfluxDB client. It validates, compensates and judges nothing, and its PUBACK promises nothing.
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { InfluxDB, Point } from "@influxdata/influxdb-client";
import { connectAsync, type MqttClient } from "mqtt";
import { freePort, mosquittoProgram } from "../acceptance/mosquitto.ts";

const cache = fileURLToPath(new URL("../../.cache/influx/", import.meta.url));

/** InfluxDB 1.x from Debian's package, unpacked and not installed; null where it can't be had. */
function influxd(): string | null {
  const installed = "/usr/bin/influxd";
  if (existsSync(installed)) return installed;
  const path = join(cache, "usr/bin/influxd");
  if (existsSync(path)) return path;
  mkdirSync(cache, { recursive: true });
  spawnSync("sh", ["-c", "apt-get download influxdb && dpkg -x influxdb_*.deb ."], {
    cwd: cache,
    stdio: "ignore",
  });
  return existsSync(path) ? path : null;
}

async function until(right: () => Promise<boolean>): Promise<void> {
  for (let attempt = 0; attempt < 200; attempt += 1) {
    if (await right().catch(() => false)) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error("a server of the bench did not start");
}

/** Seconds of the processor that servers have had, all their threads. */
function cpuSecondsOf(children: readonly ChildProcess[]): number {
  return children.reduce((sum, { pid }) => {
    const fields = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1]?.split(" ") ?? [];
    return sum + (Number(fields[11]) + Number(fields[12])) / 100;
  }, 0);
}

async function countStored(port: number): Promise<number> {
  const answer = await fetch(`http://127.0.0.1:${port}/query?db=t&q=SELECT+count(v)+FROM+reading`);
  const { results } = (await answer.json()) as {
    results: { series?: { values: [string, number][] }[] }[];
  };
  return results[0]?.series?.[0]?.values[0]?.[1] ?? 0;
}

/**
 * Runs the plain script against a publisher of `packs` packs: packs a second from the first message until all is in
 * InfluxDB, counted there; null where a server is missing.
 */
export async function plainScript(
  publish: (port: number) => Promise<number>,
  packs: number,
): Promise<{ readonly packsPerSecond: number; readonly cpuMicrosecondsPerPack: number } | null> {
  const influx = influxd();
  if (!influx || spawnSync(mosquittoProgram, ["-h"]).error) return null;
  const folder = mkdtempSync(join(tmpdir(), "drumlin-plain-"));
  const [mqttPort, influxPort, backupPort] = [await freePort(), await freePort(), await freePort()];
  writeFileSync(
    join(folder, "mosquitto.conf"),
    `listener ${mqttPort} 127.0.0.1\nallow_anonymous true\nmax_queued_messages 0\nmax_inflight_messages 0\n`,
  );
  writeFileSync(
    join(folder, "influx.conf"),
    `reporting-disabled = true\nbind-address = "127.0.0.1:${backupPort}"\n[meta]\ndir = "${folder}/meta"\n[data]\ndir = "${folder}/data"\nwal-dir = "${folder}/wal"\n[http]\nbind-address = "127.0.0.1:${influxPort}"\nlog-enabled = false\n`,
  );
  const children: ChildProcess[] = [
    spawn(mosquittoProgram, ["-c", join(folder, "mosquitto.conf")], { stdio: "ignore" }),
    spawn(influx, ["-config", join(folder, "influx.conf")], { stdio: "ignore" }),
  ];
  try {
    await until(async () => (await fetch(`http://127.0.0.1:${influxPort}/ping`)).ok);
    await fetch(`http://127.0.0.1:${influxPort}/query?q=CREATE+DATABASE+t`, { method: "POST" });
    let subscriber: MqttClient | null = null;
    await until(async () => {
      subscriber = await connectAsync(`mqtt://127.0.0.1:${mqttPort}`, { reconnectPeriod: 0 }, false);
      return true;
    });
    const listener = subscriber as unknown as MqttClient;
    const api = new InfluxDB({ url: `http://127.0.0.1:${influxPort}` }).getWriteApi("", "t", "ms", {
      batchSize: 5000,
      flushInterval: 500,
    });
    api.path = "/write?db=t&precision=ms";
    let written = 0;
    listener.on("message", (_, payload) => {
      const records = JSON.parse(payload.toString()) as { n: string; v: number; t?: number }[];
      for (const { n, v, t } of records)
        api.writePoint(
          new Point("reading")
            .tag("ch", n)
            .floatField("v", v)
            .timestamp(new Date((t ?? 0) * 1000)),
        );
      written += records.length;
    });
    await listener.subscribeAsync("#", { qos: 1 });
    const cpuBefore = process.cpuUsage();
    const serversBefore = cpuSecondsOf(children);
    const publishing = publish(mqttPort);
    let begun = 0;
    listener.once("message", () => {
      begun = performance.now();
    });
    await publishing;
    await until(async () => written >= packs * 3);
    await api.close();
    const seconds = (performance.now() - begun) / 1000;
    const { user, system } = process.cpuUsage(cpuBefore);
    const serversMicroseconds = (cpuSecondsOf(children) - serversBefore) * 1e6;
    await listener.endAsync();
    let stored = 0;
    await until(async () => {
      stored = await countStored(influxPort);
      return stored === packs * 3;
    }).catch(() => {
      throw new Error(`the plain script stored ${stored} points of ${packs * 3}`);
    });
    return {
      packsPerSecond: packs / seconds,
      cpuMicrosecondsPerPack: (user + system + serversMicroseconds) / packs,
    };
  } finally {
    for (const child of children) child.kill();
  }
}
