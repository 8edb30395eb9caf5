import { statSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import type { SeriesRow } from "@drumlin/gateway/series";
import { afterEach, expect, it } from "vitest";
import { beginMs, dayMs, lastFolder, lived, names, removeLived } from "./lived-days.ts";

afterEach(removeLived);

it("rows older than is kept go a day at a time, their roll-ups stay, and the file gives the space back", () => {
  const store = lived(10);
  const series = names[0] as string;
  const year = () => store.buckets(series, beginMs, beginMs + 10 * dayMs, 10);
  const before = year();
  const halfHours = () => store.buckets(series, beginMs, beginMs + dayMs / 2, 24);
  const beforeByMinutes = halfHours();
  const retaining = store.retaining({ keepMs: 6 * dayMs, keepBytes: Number.POSITIVE_INFINITY });
  const steps = [retaining.step(), retaining.step(), retaining.step(), retaining.step()];
  // The newest block begins on day 9 at 22:00 or so: days 0, 1 and 2 end 6 days and more before it.
  expect(steps).toEqual([true, true, true, false]);
  expect(store.rows(series)[0]?.tMs).toBe(beginMs + 3 * dayMs);
  expect(year()).toEqual(before);
  expect(store.database.prepare("PRAGMA freelist_count").get()).toEqual({ freelist_count: 0 });
  // What comes so late changes nothing of what is left of that day.
  store.write([{ series, tMs: beginMs + 1, value: 9000, flag: 1 }]);
  for (let n = 0; n < 70; n += 1) store.write([{ series, tMs: beginMs + 8 * dayMs + n, value: n, flag: 1 }]);
  store.sealAll();
  expect(year().max[0]).toBe(before.max[0]);
  expect(halfHours().max.slice(1)).toEqual(beforeByMinutes.max.slice(1));
  store.close();
});

it("a file that is too big gives its oldest days, as many as it takes; short of space it gives one after the other, but the last", () => {
  const store = lived(10, 60_000);
  const whole = store.retaining({ keepMs: Number.POSITIVE_INFINITY, keepBytes: 0 }).bytes();
  const keepBytes = whole - 50_000;
  const retaining = store.retaining({ keepMs: Number.POSITIVE_INFINITY, keepBytes });
  while (retaining.step());
  expect(retaining.bytes()).toBeLessThanOrEqual(keepBytes);
  const left = store.count("block");
  expect(left).toBeGreaterThan(0);
  let freed = 0;
  for (let more = retaining.freeOldest(); more; more = retaining.freeOldest()) freed += more;
  expect(freed).toBeGreaterThan(0);
  const { days } = store.database
    .prepare(`SELECT count(DISTINCT begin / ${dayMs}) AS days FROM block`)
    .get() as { days: number };
  expect([days, retaining.freeOldest()]).toEqual([1, 0]);
  expect(store.retaining({ keepMs: Number.POSITIVE_INFINITY, keepBytes: 0 }).step()).toBe(false);
  store.close();
});

it("a full file takes no batch: the rows stay in memory, are seen, and come in once there is room, each once", () => {
  const store = lived(2);
  const series = names[0] as string;
  const had = store.rows(series).length;
  const { page_count: pages } = store.database.prepare("PRAGMA page_count").get() as { page_count: number };
  store.database.exec(`PRAGMA max_page_count = ${pages}`);
  const more = Array.from(
    { length: 5000 },
    (_, index): SeriesRow => ({
      series,
      tMs: beginMs + 3 * dayMs + index * 1000,
      value: Math.random(),
      flag: 1,
    }),
  );
  store.add(more);
  expect(() => store.commit(7, true)).toThrow(/full/);
  expect(store.rows(series)).toHaveLength(had + 5000);
  expect(() => store.commit(7, true)).toThrow(/full/);
  store.database.exec("PRAGMA max_page_count = 100000");
  store.commit(7, true);
  store.sealAll();
  expect(store.rows(series)).toHaveLength(had + 5000);
  expect(store.rows(series).slice(-5000)).toEqual(more);
  expect(store.database.prepare("SELECT stored_seq FROM meta").get()).toEqual({ stored_seq: 7 });
  store.close();
});

it("what comes late of a series' last day, whose rows were let go, takes nothing from its roll-ups", () => {
  const store = lived(3, 60_000);
  const [silent, talking] = names as [string, string];
  // One falls silent; the other goes on for a day.
  store.add(
    Array.from(
      { length: 48 },
      (_, at): SeriesRow => ({
        series: talking,
        tMs: beginMs + 3 * dayMs + at * 1_800_000,
        value: 1,
        flag: 1,
      }),
    ),
  );
  store.commit();
  store.sealAll();
  const hours = () => store.buckets(silent, beginMs + 2 * dayMs, beginMs + 3 * dayMs, 24);
  const before = hours();
  const retaining = store.retaining({
    keepMs: Number.POSITIVE_INFINITY,
    keepBytes: Number.POSITIVE_INFINITY,
  });
  while (retaining.freeOldest());
  expect(store.rows(silent)).toEqual([]);
  expect(hours()).toEqual(before);
  // Its node was away, and brings one row of an hour that had sixty.
  store.add([{ series: silent, tMs: beginMs + 2 * dayMs + 5 * 3_600_000 + 1, value: 0, flag: 1 }]);
  store.commit();
  for (let n = 0; n < 70; n += 1) {
    store.add([{ series: talking, tMs: beginMs + n, value: n, flag: 1 }]);
    store.commit();
  }
  store.sealAll();
  expect([hours().count[5], hours().max[5], hours().min[5]]).toEqual([
    before.count[5],
    before.max[5],
    before.min[5],
  ]);
  store.close();
});

it("each day that goes for want of space gives the disk its room at once, not once 16 MB are logged", () => {
  const store = lived(12, 20_000);
  store.database.exec("PRAGMA wal_autocheckpoint = 4000");
  store.database.exec("PRAGMA wal_checkpoint(TRUNCATE)");
  const retaining = store.retaining({
    keepMs: Number.POSITIVE_INFINITY,
    keepBytes: Number.POSITIVE_INFINITY,
  });
  const bytesOf = (suffix: string) => statSync(join(lastFolder(), `series.sqlite${suffix}`)).size;
  for (let day = 0; day < 6; day += 1) {
    const before = bytesOf("");
    expect(retaining.freeOldest()).toBeGreaterThan(50_000);
    expect(bytesOf("")).toBeLessThan(before - 50_000);
  }
  // The log has the length of one day, however many went.
  expect(bytesOf("-wal")).toBeLessThan(400_000);
  store.close();
});

it("while another program reads the file, no more than one day goes for want of space: the disk would get nothing for it", () => {
  const store = lived(12, 20_000);
  const days = () => new Set(store.rows(names[0] as string).map(({ tMs }) => Math.floor(tMs / dayMs))).size;
  const retaining = store.retaining({
    keepMs: Number.POSITIVE_INFINITY,
    keepBytes: Number.POSITIVE_INFINITY,
  });
  const reader = new DatabaseSync(join(lastFolder(), "series.sqlite"), { readOnly: true });
  reader.exec("BEGIN");
  reader.prepare("SELECT count(*) FROM block").get();
  const freed = [1, 2, 3, 4, 5].map(() => retaining.freeOldest());
  expect(freed.slice(1)).toEqual([null, null, null, null]);
  expect(days()).toBeGreaterThanOrEqual(11);
  reader.exec("COMMIT");
  const before = days();
  expect(retaining.freeOldest()).toBeGreaterThan(50_000);
  expect(days()).toBe(before - 1);
  reader.close();
  store.close();
});
