import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { expect, it } from "vitest";

it("who follows the log is told of each batch once the file has it, and of none after it left", async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-told-"));
  const store = await openSqliteSeries({ folder });
  const row = (tMs: number) => ({ series: "reading/press/ec-1[S/m]", tMs, value: 1, flag: 1 }) as const;
  await store.log.follow("test");
  const seen: Promise<number>[] = [];
  const leave = store.log.onStored(() => seen.push(store.log.behind("test").then(({ batches }) => batches)));
  store.add(row(1000));
  await store.sync();
  expect(await Promise.all(seen)).toEqual([1]);
  await store.write([row(2000)]);
  expect(await Promise.all(seen)).toEqual([1, 2]);
  leave();
  store.add(row(3000));
  await store.sync();
  expect(seen).toHaveLength(2);
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});
