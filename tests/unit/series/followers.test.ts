import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import { afterEach, describe, expect, it } from "vitest";
import { every5s } from "./every-5-s.ts";
import { storeInOneThread } from "./store-in-one-thread.ts";

const hourMs = 3_600_000;
const beginMs = Date.UTC(2026, 2, 1);
const series = "point/supply/conductivity25";
const folders: string[] = [];
const folder = () => {
  const path = mkdtempSync(join(tmpdir(), "drumlin-followers-"));
  folders.push(path);
  return path;
};
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

describe("followers of the log of batches", () => {
  it("a follower that was away gets every row: batches in order, and what was sealed before as owed ranges", () => {
    const store = storeInOneThread(folder());
    store.add(every5s(series, beginMs, beginMs + hourMs));
    store.commit();
    store.followers.follow("influx");
    expect(store.followers.next("influx")).toBeNull();
    for (let hour = 1; hour < 8; hour += 1) {
      store.add(every5s(series, beginMs + hour * hourMs, beginMs + (hour + 1) * hourMs));
      store.commit();
      if (hour === 2) {
        const batch = store.followers.next("influx");
        expect(batch?.names).toEqual([series]);
        expect(batch?.tMs[0]).toBe(beginMs + hourMs);
        store.followers.sent("influx", batch?.id as number);
      }
      store.sealAll();
    }
    const got = new Set<number>();
    const behind = store.followers.behind("influx");
    expect(behind.sinceMs).toBe(beginMs + 2 * hourMs);
    for (
      let [range] = store.followers.owed("influx", 1);
      range;
      [range] = store.followers.owed("influx", 1)
    ) {
      for (const { tMs } of store.rows(range.series, range.fromMs, range.toMs)) got.add(tMs);
      store.followers.paid("influx", range);
    }
    for (let batch = store.followers.next("influx"); batch; batch = store.followers.next("influx")) {
      for (const tMs of batch.tMs) got.add(tMs);
      store.followers.sent("influx", batch.id);
    }
    expect([...got].sort((a, b) => a - b)).toEqual(
      every5s(series, beginMs + 2 * hourMs, beginMs + 8 * hourMs).map(({ tMs }) => tMs),
    );
    expect(store.followers.behind("influx")).toEqual({ batches: 0, owed: 0, sinceMs: null });
    store.close();
  });

  it("a follower is not given, after a sealed stretch that it was owed, what an older batch said of it", () => {
    const store = storeInOneThread(folder());
    const at = (tMs: number, value: number): SeriesRow => ({ series, tMs, value, flag: 1 });
    store.followers.follow("influx");
    store.add([at(beginMs, 1), at(beginMs + 1000, 7), at(beginMs + 5 * hourMs, 3)]);
    store.commit();
    store.add([at(beginMs, 2)]);
    store.commit();
    store.sealAll();
    const far = new Map<number, number | null>();
    for (const range of store.followers.owed("influx", 10)) {
      for (const row of store.rows(range.series, range.fromMs, range.toMs)) far.set(row.tMs, row.value);
      store.followers.paid("influx", range);
    }
    for (let batch = store.followers.next("influx"); batch; batch = store.followers.next("influx")) {
      for (const [index, tMs] of batch.tMs.entries()) far.set(tMs, batch.values[index] as number);
      store.followers.sent("influx", batch.id);
    }
    expect(far).toEqual(new Map(store.rows(series).map(({ tMs, value }) => [tMs, value])));
    expect(far.get(beginMs)).toBe(2);
    store.close();
  });

  it.each(["sealed", "owed again"])("what is %s while a range is paid is not taken for paid", (how) => {
    const store = storeInOneThread(folder());
    const at = (tMs: number, value: number): SeriesRow => ({ series, tMs, value, flag: 1 });
    store.followers.follow("influx");
    store.add(every5s(series, beginMs, beginMs + hourMs));
    store.add([at(beginMs + 4 * hourMs, 3)]);
    store.commit();
    store.sealAll();
    const far = new Map<number, number | null>();
    const take = (rows: readonly SeriesRow[]) => {
      for (const { tMs, value } of rows) far.set(tMs, value);
    };
    const [first] = store.followers.owed("influx", 1);
    expect(first).toMatchObject({ series, fromMs: beginMs });
    store.followers.paying("influx");
    take(store.rows(series, first?.fromMs, first?.toMs));
    // While these were on their way: another word on one of them, and a row that came late.
    const late = [at(beginMs + 5000, 77), at(beginMs + 7000, 78)];
    if (how === "sealed") {
      store.add(late);
      store.add([at(beginMs + 7 * hourMs, 4)]);
      store.commit();
      store.sealAll();
    } else {
      store.write(late);
      store.followers.owe("influx", [{ series, fromMs: beginMs + 5000, toMs: beginMs + 8000 }]);
    }
    store.followers.paid("influx", first as NonNullable<typeof first>);
    expect(store.followers.owed("influx", 1)).not.toEqual([]);
    let turns = 0;
    for (let [range] = store.followers.owed("influx", 1); range && turns < 20; turns += 1) {
      store.followers.paying("influx");
      take(store.rows(range.series, range.fromMs, range.toMs));
      store.followers.paid("influx", range);
      [range] = store.followers.owed("influx", 1);
    }
    for (let batch = store.followers.next("influx"); batch; batch = store.followers.next("influx")) {
      for (const [index, tMs] of batch.tMs.entries()) far.set(tMs, batch.values[index] as number);
      store.followers.sent("influx", batch.id);
    }
    expect(far).toEqual(new Map(store.rows(series).map(({ tMs, value }) => [tMs, value])));
    expect(store.followers.behind("influx")).toEqual({ batches: 0, owed: 0, sinceMs: null });
    store.close();
  });

  it("a log that was begun anew counts from the start again: a follower of before misses nothing of it", () => {
    const store = storeInOneThread(folder());
    store.followers.follow("influx");
    store.followers.sent("influx", 5000);
    store.followers.follow("influx");
    store.add(every5s(series, beginMs, beginMs + 60_000));
    store.commit();
    expect(store.followers.next("influx")?.tMs).toHaveLength(12);
    store.close();
  });

  it("a stretch that is paid piece by piece, from its begin on, is owed from where it was left", () => {
    const store = storeInOneThread(folder());
    store.write(every5s(series, beginMs, beginMs + 60_000));
    store.followers.follow("influx");
    store.followers.owe("influx", [{ series, fromMs: beginMs, toMs: beginMs + 60_000 }]);
    for (const fromMs of [beginMs, beginMs + 20_000, beginMs + 40_000]) {
      expect(store.followers.owed("influx", 10)).toEqual([{ series, fromMs, toMs: beginMs + 60_000 }]);
      store.followers.paid("influx", { series, fromMs, toMs: fromMs + 20_000 });
    }
    expect(store.followers.owed("influx", 10)).toEqual([]);
    store.close();
  });

  it("what was sent once is not given again, though an older batch is told of later", () => {
    const store = storeInOneThread(folder());
    store.followers.follow("influx");
    for (const fromMs of [beginMs, beginMs + 60_000, beginMs + 120_000]) {
      store.add(every5s(series, fromMs, fromMs + 60_000));
      store.commit();
    }
    const first = store.followers.next("influx")?.id as number;
    store.followers.sent("influx", first);
    const second = store.followers.next("influx")?.id as number;
    store.followers.sent("influx", second);
    store.followers.sent("influx", first);
    expect(store.followers.next("influx")?.tMs[0]).toBe(beginMs + 120_000);
    store.close();
  });

  it("a paid range leaves of a longer one what it did not cover", () => {
    const store = storeInOneThread(folder());
    store.write(every5s(series, beginMs, beginMs + 60_000));
    store.followers.follow("influx");
    store.followers.owe("influx", [{ series, fromMs: beginMs - hourMs, toMs: beginMs + hourMs }]);
    store.followers.paid("influx", { series, fromMs: beginMs - hourMs, toMs: beginMs + 1000 });
    expect(store.followers.owed("influx", 10)).toEqual([
      { series, fromMs: beginMs + 1000, toMs: beginMs + hourMs },
    ]);
    store.followers.paid("influx", { series, fromMs: beginMs + 5000, toMs: beginMs + 2 * hourMs });
    expect(store.followers.owed("influx", 10)).toEqual([
      { series, fromMs: beginMs + 1000, toMs: beginMs + 5000 },
    ]);
    store.close();
  });
});
