import { appendFileSync, existsSync, readdirSync, statSync, truncateSync } from "node:fs";
import { join } from "node:path";
import { openJournal } from "@drumlin/gateway/journal";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { expect, it } from "vitest";
import { newSite, startProcess } from "./gateway-process.ts";

const kills = Number(process.env.DRUMLIN_KILLS ?? 10);

/**
 * What a power loss takes beside the process: what was not synced. Of the journal that is at most what came after the last
 * commit, here a torn frame (SQLite's file format, "WAL Frame Header"); of the stores, which sync before a checkpoint only,
 * any part of their log as long as there was none.
 */
function losePower(data: string, round: number): void {
  const names = readdirSync(data);
  const segment = names
    .filter((name) => /^journal-\d+\.sqlite-wal$/.test(name))
    .sort()
    .at(-1);
  if (segment) {
    const torn = Buffer.alloc(24 + ((round * 1543) % 4096), round);
    appendFileSync(join(data, segment), torn);
  }
  const hadCheckpoint = names.includes("checkpoint.state");
  for (const [place, name] of ["logbook.sqlite-wal", "series.sqlite-wal"].entries()) {
    const path = join(data, name);
    if (hadCheckpoint || !existsSync(path)) continue;
    truncateSync(path, Math.floor((statSync(path).size * ((round * 7 + place * 3) % 10)) / 10));
  }
}

it(`${kills} kill -9 and power losses under QoS 1 load: every acknowledged pack is in the series, none twice`, {
  timeout: 60_000 + kills * 20_000,
}, async () => {
  const site = await newSite(["press"]);
  const acknowledged = new Set<number>();
  let sent = 0;
  // Each pack carries its own time and number, so that the series shows which came through.
  const firstMs = Date.now() - 3_600_000;
  for (let round = 0; round < kills; round += 1) {
    const gateway = await startProcess(site);
    const client = await connectAsync(
      `mqtt://127.0.0.1:${gateway.mqtt}`,
      { username: "press", password: site.secrets.press as string, reconnectPeriod: 0 },
      false,
    );
    client.on("error", () => {});
    const target = acknowledged.size + 40 + round * 13;
    await new Promise<void>((resolve) => {
      const publish = () => {
        const number = sent;
        sent += 1;
        client.publish(
          "drumlin/1/saltmarsh-house/press/readings",
          JSON.stringify([
            {
              boot: 5,
              seq: number,
              n: "ec-1",
              u: "S/m",
              v: (number + 1) * 1e-6,
              t: (firstMs + number) / 1000,
            },
          ]),
          { qos: 1 },
          (error) => {
            if (error) return;
            acknowledged.add(number);
            if (acknowledged.size >= target) resolve();
            else publish();
          },
        );
      };
      for (let place = 0; place < 20; place += 1) publish();
    });
    await gateway.kill();
    client.end(true);
    losePower(site.data, round);
  }
  // One more start runs what the journal holds and the series does not; an orderly stop stores it.
  const last = await startProcess(site);
  expect(await last.stop()).toBe(0);
  const series = await openSqliteSeries({ folder: site.data });
  const found: number[] = [];
  for await (const rows of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
    found.push(...rows.map(({ value }) => Math.round((value ?? 0) * 1e6) - 1));
  await series.close();
  const journal = await openJournal({ folder: site.data, now: Date.now });
  let journaled = 0;
  for await (const entries of journal.read(1))
    journaled += entries.filter(({ kind }) => kind === "message").length;
  await journal.close();
  expect(acknowledged.size).toBeGreaterThan(40 * kills);
  expect([...acknowledged].filter((number) => !found.includes(number))).toEqual([]);
  expect(new Set(found).size).toBe(found.length);
  expect(journaled).toBe(found.length);
});
