// Durable packs against the plain script: the same publisher, in one run; both count what is stored at the end, and the
// processor's seconds of all that takes part but the publisher.
import { spawn } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { startGateway } from "@drumlin/gateway/app";
import { readSqliteSeries } from "@drumlin/gateway/series";
import { lastAnswer, newSite } from "../acceptance/gateway-process.ts";
import { startInfluxd } from "../contract/series-store/influxd.ts";
import { figure } from "./figures.ts";
import { plainScript } from "./plain-script.ts";
import { cpuSeconds, type ThreadTimes, threadTimes } from "./processes.ts";

const publisher = fileURLToPath(new URL("./publisher.ts", import.meta.url));
const topic = "drumlin/1/saltmarsh-house/press/readings";
// A run of 100,000 takes two seconds, of which the begin, when nothing is compiled yet, and the stop are a third.
const packs = Number(process.env.DRUMLIN_PACKS ?? 400_000);
const rounds = Number(process.env.DRUMLIN_ROUNDS ?? 5);
const readingsAPack = 3;

/** One side of one round. */
interface Side {
  readonly packsPerSecond: number;
  readonly cpuMicrosecondsPerPack: number;
}

/** The gateway's side, with what its main thread had for each pack while they came in. */
interface OurSide extends Side {
  readonly mainThread: ThreadTimes;
  /** Of InfluxDB itself; 0 without one. */
  readonly influxMicrosecondsPerPack: number;
}

/** Publishes with 400 packs in flight, by a process of its own; gives the seconds until all were acknowledged. */
export function publishAll(port: number, username = "", password = "", count = packs): Promise<number> {
  const child = spawn(
    process.execPath,
    [publisher, `${port}`, username, password, topic, `${count}`, "400", `${Date.now() - count}`],
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

/** Readings that a folder's store holds. */
export function countReadings(folder: string): number {
  const look = readSqliteSeries(folder);
  let count = 0;
  for (const name of look.names.filter((one) => one.startsWith("reading/")))
    for (const rows of look.range(name, 0, Number.MAX_SAFE_INTEGER)) count += rows.length;
  look.close();
  return count;
}

const maxStarts = 5;

type Influxd = Awaited<ReturnType<typeof startInfluxd>>;

/**
 * Resolves when the gateway says that nothing waits to be sent any more. InfluxDB itself is not asked meanwhile: to count its
 * points cost it more than to store them.
 */
async function untilSent(httpPort: number, token: string): Promise<void> {
  const waiting = async () => {
    const answer = await fetch(`http://127.0.0.1:${httpPort}/api/influx`, {
      headers: { authorization: `Bearer ${token}` },
    });
    const { waiting } = (await answer.json()) as { waiting: { batches: number; stretches: number } };
    return waiting.batches + waiting.stretches;
  };
  const left = await lastAnswer(waiting, (count) => count === 0, 300_000);
  if (left > 0) throw new Error(`${left} batches and stretches still wait for InfluxDB`);
}

/** How many values of the folder's rows that are sent InfluxDB does not have: counted by measurement. */
async function missingThere({ ask }: Influxd, folder: string): Promise<number> {
  const look = readSqliteSeries(folder);
  const here = new Map<string, number>();
  for (const name of look.names.filter((one) => !one.startsWith("arrival/")))
    for (const rows of look.range(name, 0, Number.MAX_SAFE_INTEGER)) {
      const measurement = name.slice(0, name.indexOf("/"));
      const values = rows.filter(({ value }) => value !== null).length;
      here.set(measurement, (here.get(measurement) ?? 0) + values);
    }
  look.close();
  let missing = 0;
  for (const [measurement, values] of here) {
    const there = Number((await ask(`SELECT count(v) FROM "${measurement}"`))[0]?.[1] ?? 0);
    missing += Math.abs(values - there);
  }
  return missing;
}

/**
 * From the first pack until everything is in the store's file and the gateway has stopped; with InfluxDB until everything
 * is there too.
 */
async function ours(influx: Influxd | null): Promise<OurSide> {
  const site = await newSite(["press"]);
  // The node's rate is lifted here only: this measures the gateway, not the limit.
  const start = () =>
    startGateway({
      data: site.data,
      lineYaml: readFileSync(site.line, "utf8"),
      http: { host: "127.0.0.1", port: 0 },
      mqtt: { host: "127.0.0.1", port: 0 },
      rate: { packsPerSecond: 1e6, bytesPerSecond: 1e9, burstSeconds: 10 },
      influx: influx?.target ?? null,
      log: console.error,
    });
  const gateway = await start();
  const spent = { seconds: 0, cpuMicroseconds: 0 };
  /** Counts its time; that of counting rows does not count, as it does not on the other side. */
  const timed = async (work: () => Promise<unknown>): Promise<void> => {
    const [begunMs, before] = [performance.now(), process.cpuUsage()];
    await work();
    spent.seconds += (performance.now() - begunMs) / 1000;
    const { user, system } = process.cpuUsage(before);
    spent.cpuMicroseconds += user + system;
  };
  const influxSeconds = () => (influx ? cpuSeconds(influx.pid() as number) : 0);
  const influxBefore = influxSeconds();
  const cpuBefore = process.cpuUsage();
  const threadBefore = threadTimes();
  spent.seconds += await publishAll(gateway.mqttPort, "press", site.secrets.press);
  const threadAfter = threadTimes();
  const { user, system } = process.cpuUsage(cpuBefore);
  spent.cpuMicroseconds += user + system;
  await timed(() => gateway.stop());
  // A stop that runs out of time leaves the rest to the next start: that counts too.
  let stored = countReadings(site.data);
  for (let starts = 0; stored < packs * readingsAPack && starts < maxStarts; starts += 1) {
    await timed(async () => (await start()).stop());
    stored = countReadings(site.data);
  }
  // Counting costs InfluxDB as well; what it spends on that is not for sending.
  let influxSpent = influxSeconds() - influxBefore;
  // What a stop had no time to send, the next start does.
  if (influx && (await missingThere(influx, site.data)) > 0) {
    const from = influxSeconds();
    await timed(async () => {
      const sending = await start();
      await untilSent(sending.httpPort, site.token);
      await sending.stop();
    });
    influxSpent += influxSeconds() - from;
    const missing = await missingThere(influx, site.data);
    if (missing > 0) throw new Error(`InfluxDB lacks ${missing} values`);
  }
  if (stored !== packs * readingsAPack) throw new Error(`the gateway stored ${stored} readings`);
  rmSync(site.data, { recursive: true, force: true });
  return {
    packsPerSecond: packs / spent.seconds,
    cpuMicrosecondsPerPack: spent.cpuMicroseconds / packs,
    mainThread: {
      ran: (threadAfter.ran - threadBefore.ran) / packs,
      waited: (threadAfter.waited - threadBefore.waited) / packs,
    },
    influxMicrosecondsPerPack: (influxSpent * 1e6) / packs,
  };
}

const median = (values: readonly number[]) =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

/** Both sides in turn, medians of the rounds (DRUMLIN_ROUNDS, DRUMLIN_PACKS). */
export async function againstPlainScript(): Promise<void> {
  const here: OurSide[] = [];
  const withInflux: OurSide[] = [];
  const there: Side[] = [];
  for (let round = 0; round < rounds; round += 1) {
    here.push(await ours(null));
    const influx = await startInfluxd();
    withInflux.push(await ours(influx).finally(() => influx.remove()));
    const plain = await plainScript((port) => publishAll(port), packs);
    if (plain) there.push(plain);
  }
  const rate = (sides: readonly Side[]) => median(sides.map((side) => side.packsPerSecond));
  const cpu = (sides: readonly Side[]) => median(sides.map((side) => side.cpuMicrosecondsPerPack));
  const about = `packs of 3 records, QoS 1, 400 in flight, until stored; median of ${rounds} times ${packs}`;
  figure("durablePacksPerSecond", rate(here), "1/s", about);
  figure("cpuMicrosecondsPerPack", cpu(here), "us", "of all threads of the gateway");
  const main = (of: keyof ThreadTimes) => median(here.map(({ mainThread }) => mainThread[of]));
  figure("mainThreadMicrosecondsPerPack", main("ran"), "us", "of its main thread while packs come in");
  figure("mainThreadWaitMicrosecondsPerPack", main("waited"), "us", "it could have run and had no processor");
  const sentToo = "the same, and all of it in InfluxDB too";
  figure("durableInfluxPacksPerSecond", rate(withInflux), "1/s", sentToo);
  figure("cpuMicrosecondsPerPackInflux", cpu(withInflux), "us", "of the gateway, without InfluxDB's own");
  const influxOwn = median(withInflux.map((side) => side.influxMicrosecondsPerPack));
  figure("influxdMicrosecondsPerPack", influxOwn, "us", "of InfluxDB itself");
  if (there.length === 0) {
    console.log("plain script: not run, Mosquitto or InfluxDB can't be had here");
    return;
  }
  figure("plainPacksPerSecond", rate(there), "1/s", "MQTT.js on Mosquitto, JSON.parse, InfluxDB client");
  figure("plainCpuMicrosecondsPerPack", cpu(there), "us", "of the script, Mosquitto and InfluxDB");
  figure("durableRatio", rate(here) / rate(there), "1", "of the two rates");
  const processor = "the script's processor time for a pack, with its servers', against the gateway's";
  figure("durableCpuRatio", cpu(there) / cpu(here), "1", processor);
  figure("durableInfluxRatio", rate(withInflux) / rate(there), "1", sentToo);
}
