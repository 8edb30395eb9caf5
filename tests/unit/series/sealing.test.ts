import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import { afterEach, describe, expect, it } from "vitest";
import { every5s } from "./every-5-s.ts";
import { storeInOneThread } from "./store-in-one-thread.ts";

const minuteMs = 60_000;
const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const beginMs = Date.UTC(2026, 2, 1);
const names = ["point/supply/conductivity25", "reading/press/ec-1[S/m]"];
const series = names[0] as string;
const folders: string[] = [];
const folder = () => {
  const path = mkdtempSync(join(tmpdir(), "drumlin-sealing-"));
  folders.push(path);
  return path;
};
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

describe("sealing", () => {
  it("an hour is sealed an hour after its end; a day's hours become one block; batches go with it", () => {
    const store = storeInOneThread(folder());
    for (let hour = 0; hour < 26; hour += 1) {
      store.add(every5s(series, beginMs + hour * hourMs, beginMs + (hour + 1) * hourMs));
      store.commit();
      store.sealAll();
    }
    const blocks = store.database.prepare("SELECT begin, span, rows FROM block ORDER BY begin").all();
    // Until 25:59:55 the hours up to 24:00 are past: a whole day.
    expect(blocks.map(({ begin, span, rows: n }) => [begin, span, n])).toEqual([[beginMs, dayMs, 17_280]]);
    expect(store.count("part")).toBe(2);
    expect(store.count("minutes")).toBe(1);
    expect(store.rows(names[0] as string)).toHaveLength(26 * 720);
    store.close();
  });

  it("a day's hours become one block also of a series that said nothing more", () => {
    const store = storeInOneThread(folder());
    const [spoken, silent] = names as [string, string];
    const early = every5s(silent, beginMs, beginMs + 2 * hourMs);
    store.add(early);
    for (let hour = 0; hour < 26; hour += 1) {
      store.add(every5s(spoken, beginMs + hour * hourMs, beginMs + (hour + 1) * hourMs));
      store.commit();
      store.sealAll();
    }
    const blocks = store.database.prepare("SELECT begin, span, rows FROM block ORDER BY rows").all();
    expect(blocks.map((block) => Object.values(block))).toEqual([
      [beginMs, dayMs, 2 * 720],
      [beginMs, dayMs, 24 * 720],
    ]);
    expect(store.rows(silent)).toEqual(early);
    store.close();
  });

  it("a batch that ends exactly where is sealed stays: the reading on the hour is in no block yet", () => {
    const store = storeInOneThread(folder());
    store.followers.follow("influx");
    const at = (tMs: number): SeriesRow => ({ series, tMs, value: tMs - beginMs, flag: 1 });
    const rows = [beginMs, beginMs + hourMs, beginMs + 2 * hourMs].map(at);
    for (const one of rows) {
      store.add([one]);
      store.commit();
    }
    store.sealAll();
    expect(store.file.sealedOf(0).sealedTo).toBe(beginMs + hourMs);
    expect(store.rows(series)).toEqual(rows);
    expect(store.followers.next("influx")?.tMs).toEqual(Float64Array.of(beginMs + hourMs));
    store.close();
  });

  it("late rows lie above the blocks, and are merged with their roll-ups after 64 patches", () => {
    const store = storeInOneThread(folder());
    store.add(every5s(series, beginMs, beginMs + 6 * hourMs));
    store.commit();
    store.sealAll();
    const parts = store.count("part");
    const late = (n: number): SeriesRow => ({
      series: names[0] as string,
      tMs: beginMs + n * minuteMs + 1,
      value: 500 + n,
      flag: 3,
    });
    for (let n = 0; n < 64; n += 1) {
      store.add([late(n)]);
      store.commit();
      if (n < 63) store.sealAll();
      expect(store.count("part")).toBe(parts + n + 1);
    }
    const before = store.buckets(names[0] as string, beginMs, beginMs + 6 * hourMs, 6);
    expect(before.max.slice(0, 3)).toEqual([559, 563, 96]);
    store.sealAll();
    expect(store.count("part")).toBe(parts);
    expect(store.buckets(names[0] as string, beginMs, beginMs + 6 * hourMs, 6)).toEqual(before);
    store.close();
  });

  it("late rows of before a start count among the 64, and are merged when they are", () => {
    const path = folder();
    const before = storeInOneThread(path);
    before.add(every5s(series, beginMs, beginMs + 6 * hourMs));
    before.commit();
    before.sealAll();
    const parts = before.count("part");
    for (let n = 0; n < 63; n += 1) {
      before.add([{ series, tMs: beginMs + n * minuteMs + 1, value: 500 + n, flag: 3 }]);
      before.commit();
    }
    before.close();
    const store = storeInOneThread(path);
    store.sealAll();
    expect(store.count("part")).toBe(parts + 63);
    store.add([{ series, tMs: beginMs + 2, value: 7, flag: 3 }]);
    store.commit();
    store.sealAll();
    expect(store.count("part")).toBe(parts);
    store.close();
  });

  it("a value of a sealed hour of today that is taken back counts no more in its roll-ups", () => {
    const store = storeInOneThread(folder());
    const day = () => store.buckets(series, beginMs, beginMs + dayMs, 24);
    const put = (rows: readonly SeriesRow[], lastMs: number) => {
      store.add([...rows, { series, tMs: lastMs, value: 1, flag: 1 }]);
      store.commit();
      store.sealAll();
      expect(store.file.sealedOf(0).sealedTo).toBe(lastMs - hourMs);
    };
    const at = { series, tMs: beginMs + 60_000 };
    put(
      [...every5s(series, beginMs, beginMs + hourMs), { ...at, value: 9000, flag: 1 }],
      beginMs + 2 * hourMs,
    );
    expect([day().bucketMs, day().max[0]]).toEqual([hourMs, 9000]);
    put([{ ...at, value: null, flag: 9 }], beginMs + 3 * hourMs);
    expect([day().max[0], day().count[0]]).toEqual([96, 719]);
    store.close();
  });

  it("a batch that stays for its later rows does not bring back what a newer one said of its sealed ones", () => {
    const store = storeInOneThread(folder());
    const at = (tMs: number, value: number): SeriesRow => ({ series, tMs, value, flag: 1 });
    store.add([at(beginMs, 1), at(beginMs + 5 * hourMs, 3)]);
    store.commit();
    store.add([at(beginMs, 2)]);
    store.commit();
    store.sealAll();
    expect(store.count("part")).toBe(1);
    expect(store.rows(series)).toEqual([at(beginMs, 2), at(beginMs + 5 * hourMs, 3)]);
    store.close();
  });
});

it("how far the entries are that a store has only goes on, though entries that it has are run again", () => {
  const store = storeInOneThread(folder());
  for (const [seq, tMs] of [
    [9, beginMs],
    [5, beginMs + 1],
  ] as const) {
    store.add([{ series, tMs, value: 1, flag: 1 }]);
    store.commit(seq, true);
  }
  expect(store.database.prepare("SELECT stored_seq FROM meta").get()).toEqual({ stored_seq: 9 });
  store.close();
});
