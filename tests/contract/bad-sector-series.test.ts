import { readdirSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { afterAll, describe, expect, it } from "vitest";
import { failingDisks, folderOn, spoilPage } from "./failing-disk.ts";

const onDisk = await failingDisks();
afterAll(() => onDisk[0]?.unmount());

type Series = Awaited<ReturnType<typeof openSqliteSeries>>;
const name = "reading/press/ec-1[S/m]";
const beginMs = Date.UTC(2026, 2, 1);
const batches = 40;
const batchRows = 2000;
const [afterAllMs, lastMs] = [beginMs + batches * batchRows * 1000, beginMs + 86_400_000 * 30];

/** A value that packs badly: each hour takes several pages. */
const valueAt = (n: number) => ((n * 2_654_435_761) % 2 ** 32) / 2 ** 32;

/** Forty batches, most of which are sealed into hours. */
async function fill(folder: string): Promise<string> {
  const series = await openSqliteSeries({ folder });
  for (let batch = 0; batch < batches; batch += 1)
    await series.write(
      Array.from({ length: batchRows }, (_, at) => {
        const n = batch * batchRows + at;
        return { series: name, tMs: beginMs + n * 1000, value: valueAt(n), flag: 1 as const };
      }),
    );
  await series.sync();
  await series.close();
  return join(folder, "series.sqlite");
}

/** What it has: in order, each row with the value that was stored. */
async function rowsIn(series: Series): Promise<number> {
  let rows = 0;
  let beforeMs = 0;
  for await (const piece of series.range(name, beginMs, afterAllMs))
    for (const { tMs, value } of piece) {
      expect(tMs).toBeGreaterThan(beforeMs);
      expect(value).toBe(valueAt((tMs - beginMs) / 1000));
      beforeMs = tMs;
      rows += 1;
    }
  return rows;
}

async function expectTakesRows(series: Series): Promise<void> {
  await series.write([{ series: name, tMs: lastMs, value: 1, flag: 1 }]);
  expect(await series.latest(name)).toMatchObject({ tMs: lastMs, value: 1 });
}

const setAside = (folder: string) =>
  readdirSync(folder).some((file) => file.startsWith("series.sqlite.damaged-"));
const blockRows = 3600;

/** A page that holds rows of sealed hours, so far from the table's begin (0) to its end (1), and how many hours it holds. */
function leafOf(path: string, share: number): { readonly page: number; readonly hours: number } {
  const database = new DatabaseSync(path, { readOnly: true });
  const leaves = database
    .prepare("SELECT pageno, ncell FROM dbstat WHERE name = 'block' AND pagetype = 'leaf' ORDER BY path")
    .all();
  database.close();
  const leaf = leaves[Math.round((leaves.length - 1) * share)];
  return { page: Number(leaf?.pageno) - 1, hours: Number(leaf?.ncell) };
}

describe.each(onDisk)("a disk that does not give a page of the readings", (failing) => {
  // Of the hours behind it at the end of the table fewer are left than are passed over at once.
  it.each([0, 0.5, 0.8, 0.9, 1])(
    "%d of the way through the sealed hours: all others are there, and more are taken",
    async (share) => {
      const folder = folderOn(failing);
      const path = await fill(folder);
      const { page, hours } = leafOf(path, share);
      await spoilPage(failing, path, page);
      const told: string[] = [];
      const series = await openSqliteSeries({ folder, beforeRenewal: ({ why }) => told.push(why) });
      expect(told).toEqual(["damaged"]);
      expect(await rowsIn(series)).toBe(batches * batchRows - hours * blockRows);
      await expectTakesRows(series);
      expect(series.trouble()).toBeNull();
      await series.close();
      expect(setAside(folder)).toBe(true);
    },
  );

  it("the first of its file: it is set aside as it is, and another one is begun", async () => {
    const folder = folderOn(failing);
    await spoilPage(failing, await fill(folder), 0);
    const told: string[] = [];
    const series = await openSqliteSeries({ folder, beforeRenewal: ({ why }) => told.push(why) });
    expect(told).toEqual(["damaged"]);
    await expectTakesRows(series);
    await series.close();
    expect(setAside(folder)).toBe(true);
  });
});
