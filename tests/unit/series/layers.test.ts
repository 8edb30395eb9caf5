import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";
import { Known } from "./known-rows.ts";
import { precedence, storeInOneThread, writeEarlier } from "./store-in-one-thread.ts";

const minuteMs = 60_000;
const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const beginMs = Date.UTC(2026, 2, 1);
const names = ["point/supply/conductivity25", "reading/press/ec-1[S/m]"];
const folders: string[] = [];
const folder = () => {
  const path = mkdtempSync(join(tmpdir(), "drumlin-layers-"));
  folders.push(path);
  return path;
};
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

function expectSame(store: ReturnType<typeof storeInOneThread>, known: Known, count: number): void {
  const [fromMs, toMs] = [beginMs + 7 * minuteMs, beginMs + 3 * dayMs - 11 * minuteMs];
  for (const series of names) {
    const all = known.of(series);
    expect(store.rows(series)).toEqual(all);
    expect(store.latestMs(series)).toBe(all.at(-1)?.tMs ?? null);
    const found = store.buckets(series, fromMs, toMs, count);
    const unitMs = found.bucketMs >= hourMs ? hourMs : minuteMs;
    const lastMs = Math.ceil(toMs / unitMs) * unitMs;
    for (const [at, from] of found.t.entries()) {
      const inside = all.filter(({ tMs }) => tMs >= from && tMs < Math.min(from + found.bucketMs, lastMs));
      const values = inside.flatMap(({ value }) => (value === null ? [] : [value]));
      const rank = inside.reduce((worst, { flag }) => Math.max(worst, precedence.indexOf(flag)), 0);
      expect([found.count[at], found.min[at], found.max[at], found.flag[at]]).toEqual([
        values.length,
        values.length > 0 ? Math.min(...values) : null,
        values.length > 0 ? Math.max(...values) : null,
        precedence[rank],
      ]);
      if (values.length > 0)
        expect(found.mean[at]).toBeCloseTo(values.reduce((sum, value) => sum + value, 0) / values.length, 6);
    }
  }
}

// Few times, so that what comes late or twice often meets what lies in another layer.
const row = fc.record({
  series: fc.constantFrom(...names),
  tMs: fc
    .tuple(fc.integer({ min: 0, max: 71 }), fc.constantFrom(0, 12_345, 30 * minuteMs))
    .map(([hour, ms]) => beginMs + hour * hourMs + ms),
  value: fc.option(
    fc.integer({ min: -900, max: 900 }).map((k) => k / 100),
    { freq: 9 },
  ),
  flag: fc.constantFrom<SeriesRow["flag"]>(1, 2, 3, 4),
});
const rows = fc
  .array(row, { minLength: 1, maxLength: 40 })
  .map((all) => all.map((one): SeriesRow => (one.value === null ? { ...one, flag: 9 } : one)));
const steps = fc.array(
  fc.record({
    rows,
    isWritten: fc.boolean(),
    after: fc.shuffledSubarray(["commit", "seal", "move", "move", "open"] as const),
  }),
  { minLength: 2, maxLength: 7 },
);
type Steps = typeof steps extends fc.Arbitrary<infer Value> ? Value : never;

/** Does the steps, and gives the store and what is known then. */
function lived(path: string, before: readonly SeriesRow[], todo: Steps) {
  const known = new Known();
  known.put(before);
  let store = storeInOneThread(path);
  for (const step of todo) {
    if (step.isWritten) {
      store.commit();
      store.write(step.rows);
    } else store.add(step.rows);
    known.put(step.rows);
    for (const next of step.after) {
      if (next === "commit") store.commit();
      else if (next === "seal") store.sealAll();
      else if (next === "move") store.moving?.step();
      else {
        store.commit();
        store.close();
        store = storeInOneThread(path);
      }
    }
  }
  return { store, known };
}

describe("rows, buckets and the last row are what was said last, wherever the rows lie by now", () => {
  it("in memory, in batches, in blocks, merged late, opened anew", () => {
    fc.assert(
      fc.property(steps, fc.integer({ min: 3, max: 900 }), (todo, count) => {
        const { store, known } = lived(folder(), [], todo);
        expectSame(store, known, count);
        store.commit();
        store.sealAll();
        expectSame(store, known, count);
        store.close();
      }),
      { numRuns: Number(process.env.DRUMLIN_RUNS ?? 8) },
    );
  });

  it("together with a store of the first schema, before, while and after it is moved", () => {
    fc.assert(
      fc.property(rows, steps, fc.integer({ min: 3, max: 900 }), (before, todo, count) => {
        const path = folder();
        writeEarlier(path, before);
        const { store, known } = lived(path, before, todo);
        expectSame(store, known, count);
        store.commit();
        while (store.moving?.step());
        expect(store.moving?.progress().left).toBe(0);
        expectSame(store, known, count);
        store.close();
      }),
      { numRuns: Number(process.env.DRUMLIN_RUNS ?? 6) },
    );
  });
});
