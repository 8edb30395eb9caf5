// What a store is asked to take by somebody who wants to break it: 100,000 late rows over a year, the ends of the range of
// times, names of any letters, and questions while it seals.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { afterEach, expect, it } from "vitest";
import type { SeriesRow } from "../../../gateway/src/series/series-store.ts";
import { BlockFile } from "../../../gateway/src/series/sqlite/block-file.ts";
import { StoreReader } from "../../../gateway/src/series/sqlite/store-reader.ts";
import { storeInOneThread } from "./store-in-one-thread.ts";

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const nowMs = Date.UTC(2026, 5, 1);
const series = "reading/press/ec-1[S/m]";

const folders: string[] = [];
function newStore() {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-times-"));
  folders.push(folder);
  return { folder, store: storeInOneThread(folder) };
}
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

it("100,000 late rows over a year, the newest first in batches of 1,000: each is there, and so are their roll-ups", () => {
  const { store } = newStore();
  const [count, stepMs] = [100_000, 315_000];
  const at = (index: number) => nowMs - 2 * hourMs - index * stepMs;
  store.write([{ series, tMs: nowMs, value: 1, flag: 1 }]);
  store.sealAll();
  for (let index = 0; index < count; index += 1) {
    store.add([{ series, tMs: at(index), value: index, flag: 1 }]);
    if (index % 1000 !== 999) continue;
    store.commit();
    store.sealAll();
  }
  // In the batches that were not merged yet, and in the blocks.
  const rows = store.rows(series);
  expect(rows.length).toBe(count + 1);
  expect(
    rows.every(
      ({ tMs, value }, index) => index === count || (value === count - 1 - index && tMs === at(value)),
    ),
  ).toBe(true);
  const { count: counts, max } = store.buckets(series, at(count - 1), nowMs + 1, 365);
  expect(counts.reduce((sum, one) => sum + one, 0)).toBe(count + 1);
  expect(Math.max(...max.map((one) => one ?? 0))).toBe(count - 1);
  store.close();
});

it("the first millisecond, one before it, and the last of 2100, beside those of today: all are there, sealed and merged", () => {
  const { store } = newStore();
  const ends = [
    0,
    -1,
    1,
    dayMs - 1,
    dayMs,
    Date.UTC(2100, 0, 1) - 1,
    Date.UTC(2100, 11, 31, 23, 59, 59, 999),
    nowMs,
  ];
  const rows = ends.map((tMs, value): SeriesRow => ({ series, tMs, value, flag: 1 }));
  for (const row of rows) {
    store.add([row]);
    store.commit();
    store.sealAll();
  }
  const byTime = rows.toSorted((a, b) => a.tMs - b.tMs);
  expect(store.rows(series)).toEqual(byTime);
  for (let n = 0; n < 70; n += 1) store.write([{ series, tMs: 2 + n, value: n, flag: 1 }]);
  store.sealAll();
  expect(store.rows(series, 0, 2)).toEqual(byTime.slice(1, 3));
  expect(store.rows(series).length).toBe(rows.length + 70);
  expect(store.latestMs(series)).toBe(Date.UTC(2100, 11, 31, 23, 59, 59, 999));
  const { count } = store.buckets(series, -dayMs, Date.UTC(2101, 0, 1), 200);
  expect(count.reduce((sum, one) => sum + one, 0)).toBe(rows.length + 70);
  store.close();
});

it("a question that began before a seal, and one that began while days go, sees what was when it began", () => {
  const { folder, store } = newStore();
  for (let hour = 0; hour < 60; hour += 1) {
    store.add(
      [0, 1, 2].map((n) => ({ series, tMs: nowMs + hour * hourMs + n * 1000, value: hour + n, flag: 1 })),
    );
    store.commit();
  }
  const database = new DatabaseSync(join(folder, "series.sqlite"), { readOnly: true });
  const reader = new StoreReader(new BlockFile(database), null);
  const seen = () => [...reader.rowsOf(0, { fromMs: 0, toMs: nowMs + 100 * dayMs }).values];
  const asking = (meanwhile: () => void) => {
    database.exec("BEGIN");
    const before = [...reader.rowsOf(0, { fromMs: 0, toMs: nowMs + 2 * hourMs }).values];
    meanwhile();
    const whole = seen();
    database.exec("COMMIT");
    expect(whole.slice(0, before.length)).toEqual(before);
    return whole;
  };
  const all = seen();
  expect(all.length).toBe(180);
  expect(asking(() => store.sealAll())).toEqual(all);
  expect(seen()).toEqual(all);
  const retaining = store.retaining({ keepMs: dayMs, keepBytes: Number.POSITIVE_INFINITY });
  expect(asking(() => void retaining.step())).toEqual(all);
  expect(seen().length).toBe(180 - 3 * 24);
  database.close();
  store.close();
});

it("two tiers at once: rows by age, rows by size; the roll-ups of each day are left, and a clock that goes back takes none", () => {
  const { store } = newStore();
  const random = (at: number) => Math.sin(at * 12.9898) * 43_758.5453;
  for (let day = 0; day < 8; day += 1) {
    store.add(
      Array.from({ length: 288 }, (_, at) => ({
        series,
        tMs: nowMs + day * dayMs + at * 300_000,
        value: random(day * 288 + at),
        flag: 1,
      })),
    );
    store.commit();
  }
  store.add([{ series, tMs: nowMs + 8 * dayMs + 2 * hourMs, value: 0, flag: 1 }]);
  store.commit();
  store.sealAll();
  const daysLeft = () => new Set(store.rows(series).map(({ tMs }) => Math.floor((tMs - nowMs) / dayMs))).size;
  const counts = () => store.buckets(series, nowMs, nowMs + 8 * dayMs, 8).count;
  const before = counts();
  const byAge = store.retaining({ keepMs: 5 * dayMs, keepBytes: Number.POSITIVE_INFINITY });
  while (byAge.step());
  const left = daysLeft();
  // The first two of the eight are older than five days before the last one that is sealed.
  expect(left).toBe(6 + 1);
  const bySize = store.retaining({ keepMs: 5 * dayMs, keepBytes: byAge.bytes() - 1 });
  expect([bySize.step(), bySize.step()]).toEqual([true, false]);
  expect(daysLeft()).toBe(left - 1);
  expect(counts()).toEqual(before);
  // Years back, and again on: nothing that is young goes.
  store.add([{ series, tMs: nowMs - 400 * dayMs, value: 5, flag: 1 }]);
  store.commit();
  for (let n = 0; n < 70; n += 1) store.write([{ series, tMs: nowMs - 400 * dayMs + n, value: n, flag: 1 }]);
  store.sealAll();
  while (byAge.step());
  expect(daysLeft()).toBe(left);
  store.close();
});
