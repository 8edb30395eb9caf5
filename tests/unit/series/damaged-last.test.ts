import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import { afterEach, expect, it } from "vitest";
import { storeInOneThread } from "./store-in-one-thread.ts";

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const beginMs = Date.UTC(2026, 2, 1);
const [silent, talking] = ["point/supply/flow", "reading/press/ec-1[S/m]"] as const;
const folders: string[] = [];
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

/** Two series of three days; the first one falls silent then, and all that it said is sealed. */
function lived() {
  const path = mkdtempSync(join(tmpdir(), "drumlin-damaged-last-"));
  folders.push(path);
  const store = storeInOneThread(path);
  const rows = (series: string, hours: number): SeriesRow[] =>
    Array.from({ length: hours }, (_, hour) => ({
      series,
      tMs: beginMs + hour * hourMs,
      value: hour,
      flag: 1,
    }));
  store.add([...rows(silent, 72), ...rows(talking, 100)]);
  store.commit();
  store.sealAll();
  return store;
}
const damage = (store: ReturnType<typeof lived>, tables: readonly string[], which: "first" | "last") => {
  for (const table of tables)
    store.database.exec(
      `UPDATE ${table} SET data = zeroblob(length(data)) WHERE series = 0 AND begin = (SELECT ${which === "last" ? "max" : "min"}(begin) FROM ${table} WHERE series = 0)`,
    );
  store.file.forgetParts();
};

it("whose last block is damaged: the latest row is the newest that can be read, a chart shows that day by its roll-ups", () => {
  const store = lived();
  const before = store.buckets(silent, beginMs, beginMs + 3 * dayMs, 3);
  damage(store, ["block"], "last");
  expect(store.latestMs(silent)).toBe(beginMs + 47 * hourMs);
  expect(store.latestMs(talking)).toBe(beginMs + 99 * hourMs);
  const after = store.buckets(silent, beginMs, beginMs + 3 * dayMs, 3);
  expect([after.min, after.max, after.count]).toEqual([before.min, before.max, before.count]);
  expect(store.rows(silent)).toHaveLength(48);
  expect(store.file.unreadable.size).toBeGreaterThan(0);
  store.close();
});

it("of which a day's block and roll-ups are damaged: that day is a gap, the others are as they were", () => {
  const store = lived();
  damage(store, ["block", "minutes"], "first");
  store.database.exec(
    "UPDATE hours SET data = zeroblob(length(data)) WHERE series = 0 AND day = (SELECT min(day) FROM hours WHERE series = 0)",
  );
  const { count, max } = store.buckets(silent, beginMs, beginMs + 3 * dayMs, 3);
  expect(count).toEqual([0, 24, 24]);
  expect(max.slice(1)).toEqual([47, 71]);
  expect(store.latestMs(silent)).toBe(beginMs + 71 * hourMs);
  store.close();
});
