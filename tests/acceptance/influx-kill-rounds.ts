import { rmSync } from "node:fs";
import { readSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { startInfluxd } from "../contract/series-store/influxd.ts";
import { eventually, newSite, startProcess } from "./gateway-process.ts";

/** Records of a pack: batches fill up, and so go to InfluxDB, within a second of load and not only each ten. */
const recordsOfPack = 200;
const underWay = 30;
/** A life takes so many packs at least, and up to so many more, before it is killed. */
const [leastPacks, morePacks] = [150, 400];
const hourMs = 3_600_000;
/** Rows of one question at most. */
const rowsAsked = 50_000;
const topic = "drumlin/1/saltmarsh-house/press/readings";
/** In what order the gateway took packs is its own matter. */
const isForOthers = (name: string) => !name.startsWith("arrival/");

/** Numbers from 0 up to 1 that are the same at each run with a seed (mulberry32). */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

interface InfluxAnswer {
  readonly failure: { readonly code: string } | null;
  readonly waiting: { readonly batches: number; readonly stretches: number };
  readonly aside: readonly unknown[];
}

/** A gateway that sends on to a real InfluxDB 1.x; both are killed as the seed has it. */
export async function openInfluxLife(seed: number) {
  const influx = await startInfluxd();
  const site = await newSite(["press"]);
  const { password } = influx.target.signIn as { password: string };
  const start = () =>
    startProcess(site, ["--influx", `${influx.target.url}/drumlin`], {
      env: { DRUMLIN_INFLUX_USER: "keeper", DRUMLIN_INFLUX_PASSWORD: password },
    });
  const chance = seeded(seed);
  // Each record carries a time of its own, so that the series shows which came through.
  const firstMs = Math.floor(Date.now() / 1000) * 1000 - 8 * hourMs;
  const acknowledged: number[] = [];
  let next = 0;
  let killsOfInflux = 0;

  const packOf = (pack: number) =>
    JSON.stringify(
      Array.from({ length: recordsOfPack }, (_, place) => {
        const number = pack * recordsOfPack + place;
        const record = { n: "ec-1", u: "S/m", v: saidBy(number), t: (firstMs + number) / 1000 };
        return place === 0 ? { boot: 5, seq: pack, ...record } : record;
      }),
    );

  /** Sends under load until so many packs more are acknowledged. */
  async function load(port: number, more: number): Promise<void> {
    const client = await connectAsync(
      `mqtt://127.0.0.1:${port}`,
      { username: "press", password: site.secrets.press as string, reconnectPeriod: 0 },
      false,
    );
    client.on("error", () => {});
    const target = acknowledged.length + more;
    await new Promise<void>((resolve) => {
      const publish = () => {
        const pack = next;
        next += 1;
        client.publish(topic, packOf(pack), { qos: 1 }, (error) => {
          if (error) return;
          acknowledged.push(pack);
          if (acknowledged.length >= target) resolve();
          else publish();
        });
      };
      for (let place = 0; place < underWay; place += 1) publish();
    });
    client.end(true);
  }

  /** InfluxDB is killed at some moment of the load, and is away for up to a second. */
  async function killInflux(): Promise<void> {
    await new Promise((resolve) => setTimeout(resolve, chance() * 1500));
    await influx.kill();
    killsOfInflux += 1;
    await new Promise((resolve) => setTimeout(resolve, chance() * 1000));
    await influx.start();
  }

  return {
    site,
    killsOfInflux: () => killsOfInflux,
    /** A life of the gateway under load, ended by `kill -9`; `withInflux`: it is killed in half of them. */
    async round(withInflux: boolean): Promise<void> {
      const packs = leastPacks + Math.floor(chance() * morePacks);
      const isKilled = withInflux && chance() < 0.5;
      const afterMs = chance() * 600;
      const gateway = await start();
      const killing = isKilled ? killInflux() : Promise.resolve();
      await load(gateway.mqtt, packs);
      // Some are killed while they send what is stored, and not while they store.
      await new Promise((resolve) => setTimeout(resolve, afterMs));
      await gateway.kill();
      await killing;
    },
    /** What both hold after one more start and an orderly stop: rows that one of them lacks, has twice or has otherwise. */
    async judge() {
      const last = await start();
      const waiting = await eventually(
        () => last.json<InfluxAnswer>("/api/influx"),
        ({ waiting: { batches, stretches }, failure }) =>
          batches === 0 && stretches === 0 && failure === null,
      );
      const code = await last.stop();
      const { stored, numbers } = await storedIn(site.data, firstMs);
      const there = await heldBy(influx.ask, stored);
      const lost = acknowledged.filter((pack) =>
        Array.from({ length: recordsOfPack }, (_, place) => pack * recordsOfPack + place).some(
          (number) => numbers[number] !== 1,
        ),
      );
      const twice = numbers.filter((count) => (count ?? 0) > 1).length;
      return { code, acknowledged: acknowledged.length, aside: waiting.aside.length, lost, twice, ...there };
    },
    async remove() {
      await influx.remove();
      rmSync(site.folder, { recursive: true, force: true });
    },
  };
}

const saidBy = (number: number) => ((number * 7919) % 100_003) / 1e7;

/** Of each series that is for others the rows, and how often each number that was sent is there with its value. */
async function storedIn(data: string, firstMs: number) {
  const look = readSqliteSeries(data);
  const stored = new Map<string, Map<number, number | null>>();
  const numbers: number[] = [];
  for (const name of look.names.filter(isForOthers)) {
    const rows = new Map<number, number | null>();
    for (const piece of look.range(name, 0, Number.MAX_SAFE_INTEGER))
      for (const { tMs, value } of piece) {
        rows.set(Math.round(tMs), value);
        if (name !== "reading/press/ec-1[S/m]") continue;
        const number = Math.round(tMs) - firstMs;
        numbers[number] = (numbers[number] ?? 0) + (value === saidBy(number) ? 1 : 1000);
      }
    stored.set(name, rows);
  }
  look.close();
  return { stored, numbers };
}

/** What InfluxDB has of it: compared by a question for each series and stretch. */
async function heldBy(
  ask: (statement: string) => Promise<readonly (readonly unknown[])[]>,
  stored: ReadonlyMap<string, ReadonlyMap<number, number | null>>,
) {
  let [rows, missing, other, only] = [0, 0, 0, 0];
  for (const [name, own] of stored) {
    const measurement = name.slice(0, name.indexOf("/"));
    const left = new Set(own.keys());
    const times = [...own.keys()].sort((a, b) => a - b);
    for (let at = 0; at < times.length; at += rowsAsked) {
      const fromMs = at === 0 ? 0 : times[at];
      const toMs = times[at + rowsAsked] ?? Date.now() + 400 * 24 * hourMs;
      const found = await ask(
        `SELECT v, q FROM "${measurement}" WHERE "series" = '${name}' AND time >= ${fromMs}ms AND time < ${toMs}ms`,
      );
      for (const [atMs, v] of found) {
        rows += 1;
        const tMs = atMs as number;
        if (!own.has(tMs)) only += 1;
        else if ((v ?? null) !== own.get(tMs)) other += 1;
        left.delete(tMs);
      }
    }
    missing += left.size;
  }
  const total = [...stored.values()].reduce((sum, { size }) => sum + size, 0);
  return { stored: total, there: rows, missing, other, only };
}
