import { closeSync, cpSync, mkdtempSync, openSync, readdirSync, rmSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openOrRenew } from "@drumlin/gateway/database";
import type { SeriesRow } from "@drumlin/gateway/series";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { migrations } from "../../../gateway/src/series/sqlite/schema.ts";
import { isSoundStore, mendStore } from "../../../gateway/src/series/sqlite/soundness.ts";
import { storeInOneThread } from "./store-in-one-thread.ts";

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const beginMs = Date.UTC(2026, 2, 1);
const hours = 26;
const names = Array.from({ length: 12 }, (_, number) => `reading/press/ec-${number}[S/m]`);
const first = names[0] as string;
const pageBytes = 4096;
const folders: string[] = [];
function newFolder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-attacked-series-"));
  folders.push(path);
  return path;
}

function hourOf(hour: number): SeriesRow[] {
  const rows: SeriesRow[] = [];
  for (const [place, series] of names.entries())
    for (let minute = 0; minute < 60; minute += 1) {
      const tMs = beginMs + hour * hourMs + minute * minuteMs;
      rows.push({ series, tMs, value: Math.sin(place + hour * minute), flag: 1 });
    }
  return rows;
}

/** A store of a day and more: a day's blocks, hours of today, rows that lie in no block yet. */
let whole: string;
/** A page of each table and index, by its kind. */
const pages = new Map<string, number>();

beforeAll(() => {
  whole = newFolder();
  const store = storeInOneThread(whole);
  for (let hour = 0; hour < hours; hour += 1) {
    store.write(hourOf(hour));
    store.sealAll();
  }
  store.followers.follow("outside");
  for (const { name, kind, page } of store.database
    .prepare("SELECT name, pagetype AS kind, max(pageno) AS page FROM dbstat GROUP BY name, pagetype")
    .all())
    pages.set(`${name}, ${kind}`, page as number);
  store.close();
});
afterAll(() => {
  for (const path of folders) rmSync(path, { recursive: true, force: true });
});

/** A copy of the store with one page of it damaged. */
function damaged(place: string): string {
  const folder = newFolder();
  cpSync(whole, folder, { recursive: true });
  const page = pages.get(place);
  expect(page, [...pages.keys()].join("; ")).toBeDefined();
  const file = openSync(join(folder, "series.sqlite"), "r+");
  // Of the first page the file's own header stays: without it there is no database at all.
  const from = page === 1 ? 100 : 0;
  const bytes = Buffer.alloc(pageBytes - from, 0xa7);
  writeSync(file, bytes, 0, bytes.length, ((page as number) - 1) * pageBytes + from);
  closeSync(file);
  return folder;
}

/** Opens it as a start does, and gives what was told. */
function opened(folder: string) {
  const told: string[] = [];
  openOrRenew(join(folder, "series.sqlite"), migrations, {
    nowMs: 0,
    givesBack: true,
    isSound: isSoundStore,
    afterCarrying: mendStore,
    beforeRenewal: ({ why }) => told.push(why),
  }).close();
  return { told, store: storeInOneThread(folder) };
}

describe("a page of the store that is damaged", () => {
  it.each([
    ["sqlite_schema, leaf", 0],
    ["meta, leaf", 1],
    ["series, leaf", 1],
    ["family, leaf", 1],
    ["follower, leaf", 1],
    ["sqlite_sequence, leaf", 1],
    ["part_of, leaf", 1],
    ["part, leaf", 0.8],
    ["part, overflow", 0.8],
    ["block, leaf", 0.8],
    ["block, overflow", 0.8],
    ["sqlite_autoindex_block_1, leaf", 1],
    ["minutes, leaf", 1],
    ["hours, leaf", 1],
  ])("%s: is told of, what comes is stored, and of what was there it leaves %d", (place, share) => {
    const folder = damaged(place);
    const { told, store } = opened(folder);
    expect(told).toEqual(["damaged"]);
    expect(readdirSync(folder).some((name) => name.startsWith("series.sqlite.damaged-"))).toBe(true);
    store.write(hourOf(hours + 4));
    store.sealAll();
    const rows = (fromMs: number) => names.reduce((sum, name) => sum + store.rows(name, fromMs).length, 0);
    expect(rows(beginMs + (hours + 4) * hourMs)).toBe(names.length * 60);
    expect(rows(beginMs)).toBeGreaterThanOrEqual(names.length * 60 * (hours * share + 1));
    store.buckets(first, beginMs, beginMs + 40 * hourMs, 10);
    store.close();
  });

  it("takes no number of a batch along: what comes is sent on, and a late row is seen", () => {
    const { store } = opened(damaged("sqlite_sequence, leaf"));
    const late: SeriesRow = { series: first, tMs: beginMs + 30_000, value: 7, flag: 1 };
    store.write([late]);
    expect(store.followers.next("outside")?.values).toEqual(new Float64Array([7]));
    expect(store.rows(first, beginMs + 1, beginMs + minuteMs)).toEqual([late]);
    store.close();
  });

  it("is put in order also by a start after one that was cut off", () => {
    const folder = damaged("meta, leaf");
    const path = join(folder, "series.sqlite");
    const cutOff = (database: DatabaseSync) => {
      mendStore(database);
      throw new Error("cut off");
    };
    const settings = { nowMs: 0, isSound: isSoundStore, beforeRenewal: () => {} };
    expect(() => openOrRenew(path, migrations, { ...settings, afterCarrying: cutOff })).toThrow("cut off");
    const { told, store } = opened(folder);
    expect(told).toEqual(["damaged"]);
    expect(store.rows(first)).toHaveLength(60 * hours);
    store.close();
    // Between the two renames: the damaged one is aside, the other does not bear the name yet.
    const carried = new DatabaseSync(path);
    carried.exec("PRAGMA journal_mode = DELETE");
    carried.close();
    cpSync(path, `${path}.carried`);
    rmSync(path);
    const after = opened(folder);
    expect(after.told).toEqual([]);
    expect(after.store.rows(first)).toHaveLength(60 * hours);
    after.store.close();
  });
});

it("a block that can't be read costs its own rows: its hours and minutes stay, also when late rows are merged", () => {
  const folder = newFolder();
  cpSync(whole, folder, { recursive: true });
  const store = storeInOneThread(folder);
  const before = store.buckets(first, beginMs, beginMs + dayMs, 24);
  store.database.exec(
    `UPDATE block SET data = zeroblob(length(data)) WHERE series = 0 AND begin = ${beginMs}`,
  );
  expect(store.rows(first, beginMs, beginMs + dayMs)).toEqual([]);
  expect(store.file.unreadable.size).toBe(1);
  expect(store.rows(names[1] as string, beginMs, beginMs + dayMs)).toHaveLength(24 * 60);
  for (let n = 0; n < 70; n += 1)
    store.write([{ series: first, tMs: beginMs + 5 * hourMs + n, value: 3, flag: 1 }]);
  store.sealAll();
  const after = store.buckets(first, beginMs, beginMs + dayMs, 24);
  const others = (list: readonly unknown[]) => list.filter((_, hour) => hour !== 5);
  expect(others(after.count)).toEqual(others(before.count));
  expect(others(after.max)).toEqual(others(before.max));
  expect(after.count[5]).toBe(70);
  store.close();
});

it("a disk that is short of space takes days away, never what comes after on the day that runs", () => {
  const store = storeInOneThread(newFolder());
  const rowsFrom = (fromMs: number, count: number): SeriesRow[] =>
    Array.from({ length: count }, (_, at) => ({
      series: first,
      tMs: fromMs + at * minuteMs,
      value: at,
      flag: 1,
    }));
  store.write(rowsFrom(beginMs, 6 * 60));
  store.sealAll();
  const retaining = store.retaining({ keepMs: dayMs, keepBytes: 0 });
  while (retaining.freeOldest());
  while (retaining.step());
  const later = rowsFrom(beginMs + 6 * hourMs, 10 * 60);
  store.write(later);
  store.sealAll();
  expect(store.rows(first, beginMs + 6 * hourMs)).toEqual(later);
  store.close();
});

describe("clocks that leap round a day's end", () => {
  const ends = [beginMs, beginMs + dayMs, beginMs + 2 * dayMs, beginMs + 366 * dayMs, beginMs - 400 * dayMs];
  const time = fc
    .tuple(fc.constantFrom(...ends), fc.constantFrom(-hourMs, -1, 0, 1, 999, minuteMs, 3 * hourMs))
    .map(([endMs, offMs]) => endMs + offMs);
  const row = fc.record({
    series: fc.constantFrom(first, names[1] as string),
    tMs: time,
    value: fc.option(fc.integer({ min: -5, max: 5 })),
    flag: fc.constantFrom(1 as const, 3 as const, 4 as const),
  });
  const step = fc.oneof(
    { weight: 5, arbitrary: fc.array(row, { minLength: 1, maxLength: 6 }) },
    { weight: 2, arbitrary: fc.constantFrom("commit" as const, "seal" as const) },
    { weight: 1, arbitrary: fc.constant("killed" as const) },
  );

  it("rows are each there once, the last one said, also after being killed while sealing", () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 5, maxLength: 40 }), (steps) => {
        let folder = newFolder();
        let store = storeInOneThread(folder);
        const known = new Map<string, Map<number, SeriesRow>>();
        /** What the file may not have yet: the journal gives it again. */
        let since: SeriesRow[] = [];
        for (const one of steps) {
          if (one === "commit") {
            store.commit();
            since = [];
          } else if (one === "seal") store.sealing.step();
          else if (one === "killed") {
            // The files as they are, in the middle of whatever it does; its head is gone.
            const copy = newFolder();
            cpSync(folder, copy, { recursive: true });
            store.close();
            [folder, store] = [copy, storeInOneThread(copy)];
            store.add(since);
          } else {
            store.add(one);
            since.push(...one);
            for (const said of one)
              known.set(said.series, (known.get(said.series) ?? new Map()).set(said.tMs, said));
          }
        }
        store.commit();
        store.sealAll();
        for (const [series, rows] of known) {
          const all = [...rows.values()].sort((a, b) => a.tMs - b.tMs);
          expect(store.rows(series)).toEqual(all);
          const valued = all.filter(({ value }) => value !== null).length;
          const { count } = store.buckets(series, beginMs - 402 * dayMs, beginMs + 368 * dayMs, 1);
          expect(count.reduce((sum, one) => sum + one, 0)).toBe(valued);
        }
        store.close();
      }),
      { numRuns: 20 },
    );
  });
});

it("a disk that is full while sealing leaves everything as it was, and it is sealed once there is room", () => {
  const store = storeInOneThread(newFolder());
  const random = Array.from({ length: 6 }, (_, hour) =>
    hourOf(hour).map((row, place) => ({ ...row, value: Math.sin(place * 12.9898) * 43_758.5453 })),
  ).flat();
  store.write(random);
  const { page_count: pages } = store.database.prepare("PRAGMA page_count").get() as { page_count: number };
  store.database.exec(`PRAGMA max_page_count = ${pages}`);
  expect(() => store.sealAll()).toThrow(/full/);
  store.file.forgetParts();
  store.sealing.look();
  const rows = () => names.reduce((sum, name) => sum + store.rows(name).length, 0);
  expect([rows(), store.count("block")]).toEqual([random.length, 0]);
  store.database.exec("PRAGMA max_page_count = 1000000");
  store.sealAll();
  expect(rows()).toBe(random.length);
  expect(store.count("block")).toBeGreaterThan(0);
  store.close();
});
