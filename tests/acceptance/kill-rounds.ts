import { appendFileSync, existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { openJournal } from "@drumlin/gateway/journal";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { newSite, startProcess } from "./gateway-process.ts";
import { losePower } from "./power-loss.ts";

/** What is known of a gateway that is killed again and again, also by whoever goes on later. */
interface KilledLife {
  readonly site: Awaited<ReturnType<typeof newSite>>;
  readonly acknowledged: Set<number>;
  /** Where it is kept; null: nowhere. */
  readonly folder: string | null;
  readonly firstMs: number;
  /** Packs with lower numbers were given out. */
  next: number;
  rounds: number;
  lostBytes: number;
}

/** Numbers of a round at most: they are given out on disk before the first is sent. */
const maxOfRound = 20_000;

function keep(life: KilledLife, next: number): void {
  const { folder, site, firstMs, rounds, lostBytes } = life;
  if (folder === null) return;
  const path = join(folder, "life.json");
  writeFileSync(`${path}.new`, JSON.stringify({ site, firstMs, next, rounds, lostBytes }), { flush: true });
  renameSync(`${path}.new`, path);
}

/** Begins a life, or goes on with the one that is kept in `folder`. */
export async function openLife(folder: string | null): Promise<KilledLife> {
  const path = folder === null ? null : join(folder, "life.json");
  if (folder !== null && path !== null && existsSync(path)) {
    const kept = JSON.parse(readFileSync(path, "utf8")) as Omit<KilledLife, "acknowledged" | "folder">;
    const file = join(folder, "acknowledged");
    const numbers = existsSync(file) ? readFileSync(file, "utf8").trim().split("\n").map(Number) : [];
    return { ...kept, folder, acknowledged: new Set(numbers) };
  }
  if (folder !== null) mkdirSync(folder, { recursive: true });
  return {
    site: await newSite(["press"]),
    acknowledged: new Set(),
    folder,
    // Each pack carries its own time and number, so that the series shows which came through.
    firstMs: Date.now() - 3_600_000,
    next: 0,
    rounds: 0,
    lostBytes: 0,
  };
}

/** Sends until so many packs more are acknowledged, 60 under way: also such as are packed together. */
async function sendUntil(life: KilledLife, port: number, more: number): Promise<void> {
  const { site, acknowledged, firstMs } = life;
  const client = await connectAsync(
    `mqtt://127.0.0.1:${port}`,
    { username: "press", password: site.secrets.press as string, reconnectPeriod: 0 },
    false,
  );
  client.on("error", () => {});
  const target = acknowledged.size + more;
  const own: number[] = [];
  await new Promise<void>((resolve) => {
    const publish = () => {
      const number = life.next;
      life.next += 1;
      const record = {
        boot: 5,
        seq: number,
        n: "ec-1",
        u: "S/m",
        v: (number + 1) * 1e-7,
        t: (firstMs + number) / 1000,
      };
      client.publish(
        "drumlin/1/saltmarsh-house/press/readings",
        JSON.stringify([record]),
        { qos: 1 },
        (error) => {
          if (error) return;
          acknowledged.add(number);
          own.push(number);
          if (acknowledged.size >= target) resolve();
          else publish();
        },
      );
    };
    for (let place = 0; place < 60; place += 1) publish();
  });
  if (life.folder !== null)
    appendFileSync(join(life.folder, "acknowledged"), `${own.join("\n")}\n`, { flush: true });
  client.end(true);
}

/** A life as short as a test's knows no checkpoint but that of a stop: so often one comes before the kill. */
const stopEvery = 4;

/** Starts the gateway, sends under load, kills it with -9 and takes the power away. */
export async function killOnce(life: KilledLife): Promise<void> {
  keep(life, life.next + maxOfRound);
  if (life.rounds % stopEvery === 2) {
    const stopped = await startProcess(life.site);
    await sendUntil(life, stopped.mqtt, 100);
    if ((await stopped.stop()) !== 0) throw new Error("a stop was not in order");
  }
  const gateway = await startProcess(life.site);
  await sendUntil(life, gateway.mqtt, 40 + ((life.rounds * 13) % 1500));
  await gateway.kill();
  const lost = losePower(life.site.data, life.rounds, ((life.rounds * 7919) % 1000) / 1000);
  for (const bytes of lost.values()) life.lostBytes += bytes;
  life.rounds += 1;
  keep(life, life.next);
}

/** What is there after one more start, which runs what the journal holds and the stores do not, and an orderly stop. */
export async function judgeLife({ site, acknowledged }: KilledLife) {
  const last = await startProcess(site);
  const code = await last.stop();
  const series = await openSqliteSeries({ folder: site.data });
  const found: number[] = [];
  for await (const rows of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
    for (const { value } of rows) found.push(Math.round((value ?? 0) * 1e7) - 1);
  await series.close();
  const journal = await openJournal({ folder: site.data, now: Date.now });
  let journaled = 0;
  for await (const entries of journal.read(1))
    journaled += entries.filter(({ kind }) => kind === "message").length;
  await journal.close();
  const stored = new Set(found);
  return {
    code,
    acknowledged: acknowledged.size,
    stored: found.length,
    journaled,
    lost: [...acknowledged].filter((number) => !stored.has(number)),
    twice: found.length - stored.size,
  };
}
