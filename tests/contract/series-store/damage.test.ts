import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { afterAll, expect, it } from "vitest";

const folder = mkdtempSync(join(tmpdir(), "drumlin-damaged-series-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const beginMs = Date.UTC(2026, 2, 1);
const name = "reading/press/ec-1[S/m]";

it("a store that is found damaged while it is used is made again, and the next start runs the journal into it", async () => {
  const mended: string[] = [];
  const add = async (seq: number, value: number) => {
    series.begin(seq);
    series.add({ series: name, tMs: beginMs + seq * 1000, value, flag: 1 });
    await series.sync();
  };
  let series = await openSqliteSeries({ folder, againMs: 20, onMended: ({ why }) => mended.push(why) });
  for (let seq = 1; seq <= 20; seq += 1) await add(seq, seq);
  const other = new DatabaseSync(join(folder, "series.sqlite"));
  other.exec("UPDATE part SET data = zeroblob(length(data)) WHERE id = 3");
  other.close();
  const stored = async () => {
    let rows = 0;
    for await (const piece of series.range(name, beginMs, beginMs + 86_400_000)) rows += piece.length;
    return rows;
  };
  await expect.poll(() => stored().catch(() => 0)).toBe(20);
  expect(mended).toEqual(["damaged"]);
  await add(21, 21);
  expect((await series.latest(name))?.value).toBe(21);
  await series.close();
  series = await openSqliteSeries({ folder });
  expect(series.storedSeq).toBe(0);
  expect((await series.latest(name))?.value).toBe(21);
  await series.close();
});
