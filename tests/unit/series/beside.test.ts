// Rows of an hour that is shown twice: they go beside what stands, and replace none of it.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { storeInOneThread } from "./store-in-one-thread.ts";

const hourMs = 3_600_000;
const beginMs = Date.UTC(2026, 2, 1);
const series = "point/supply/conductivity25";
const at = (ms: number, value: number): SeriesRow => ({ series, tMs: beginMs + ms, value, flag: 1 });
const beside = (ms: number, value: number): SeriesRow => ({ ...at(ms, value), beside: true });
let folder: string;
let store: ReturnType<typeof storeInOneThread>;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-beside-"));
  store = storeInOneThread(folder);
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

const ways: readonly (readonly [string, (rows: readonly SeriesRow[]) => void])[] = [
  ["written", (rows) => void store.write(rows)],
  [
    "added",
    (rows) => {
      store.add(rows);
      store.commit();
    },
  ],
];
describe.each(ways)("%s", (_, put) => {
  it("it takes the first free millisecond, also behind the last one that was asked for", () => {
    put([at(0, 1), at(1, 2), at(3, 4)]);
    put([beside(0, 7)]);
    put([beside(0, 8)]);
    expect(store.rows(series)).toEqual([at(0, 1), at(1, 2), at(2, 7), at(3, 4), at(4, 8)]);
  });

  it("beside what came with it, and beside what is sealed", () => {
    put([at(0, 1), beside(0, 2), at(5 * hourMs, 5)]);
    store.sealAll();
    put([beside(0, 3)]);
    expect(store.rows(series)).toEqual([at(0, 1), at(1, 2), at(2, 3), at(5 * hourMs, 5)]);
  });

  it("run again, also after a start, it is its own", () => {
    put([at(0, 1)]);
    put([beside(0, 7)]);
    store.close();
    store = storeInOneThread(folder);
    put([beside(0, 7)]);
    expect(store.rows(series)).toEqual([at(0, 1), at(1, 7)]);
  });
});
