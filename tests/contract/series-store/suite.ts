import type { SeriesRow, SeriesStore } from "@drumlin/gateway/series";
import fc from "fast-check";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";

type Place = { readonly open: () => Promise<SeriesStore>; readonly remove: () => void | Promise<void> };
type Flag = SeriesRow["flag"];

/** What a store can't do and need not: nothing is passed over in silence, the suite then holds it to what is left. */
interface Abilities {
  /** Tells how many rows another value stood for. */
  readonly countsReplaced: boolean;
  /** Puts rows beside what stands; others only ever get rows whose time is settled. */
  readonly putsBeside: boolean;
  /** Runs of the property test. */
  readonly runs: number;
}
const embedded: Abilities = { countsReplaced: true, putsBeside: true, runs: 60 };

// Precedence of flags from low to high: ioos_qc, qartod_compare.
const precedence: readonly Flag[] = [9, 2, 1, 3, 4];

/** What any series store must do; each implementation runs it. */
export function seriesStoreContract(
  name: string,
  place: () => Promise<Place>,
  { countsReplaced, putsBeside, runs }: Abilities = embedded,
): void {
  describe(`a series store: ${name}`, () => {
    let at: Place;
    let store: SeriesStore;
    // One store for all: each test has a series of its own.
    let own = "";
    let tests = 0;
    beforeEach(() => {
      tests += 1;
      own = `point/supply-${tests}/conductivity25`;
    });
    beforeAll(async () => {
      at = await place();
      store = await at.open();
    });
    afterAll(async () => {
      await store.close();
      await at.remove();
    });
    const row = (tMs: number, value: number | null, flag: Flag = 1, series = own): SeriesRow => ({
      series,
      tMs,
      value,
      flag,
    });
    const rows = async (series = own, from = 0, to = 1e15) => {
      const found: SeriesRow[] = [];
      for await (const batch of store.range(series, from, to)) found.push(...batch);
      return found;
    };

    it("gives back what was written, by time, in [from, to), also after it was opened anew", async () => {
      await store.write([row(3000, 3), row(1000, 1), row(2000, null, 9), row(4000, 4)]);
      await store.close();
      store = await at.open();
      expect(await rows(undefined, 1000, 4000)).toEqual([row(1000, 1), row(2000, null, 9), row(3000, 3)]);
      expect(await store.latest(own)).toEqual(row(4000, 4));
      expect(await store.names()).toContain(own);
    });

    it("the same row again changes nothing; another value at the same time wins and is counted", async () => {
      const replaced = (count: number) => (countsReplaced ? count : null);
      expect(await store.write([row(1000, 1), row(1000, 1)])).toEqual({ written: 2, replaced: replaced(0) });
      expect(await store.write([row(1000, 7, 3)])).toEqual({ written: 1, replaced: replaced(1) });
      expect(await rows()).toEqual([row(1000, 7, 3)]);
      expect(await store.buckets(own, 0, 60_000, 1)).toMatchObject({
        min: [7],
        max: [7],
        mean: [7],
        count: [1],
        flag: [3],
      });
    });

    if (putsBeside)
      it("a row beside what stands goes to the next free millisecond; the same one again is its own", async () => {
        await store.write([row(1000, 1), row(1001, 2)]);
        const again = [
          { ...row(1000, 7), beside: true },
          { ...row(1001, 8), beside: true },
        ];
        await store.write(again);
        await store.write(again);
        expect(await rows()).toEqual([row(1000, 1), row(1001, 2), row(1002, 7), row(1003, 8)]);
        expect(await store.buckets(own, 0, 60_000, 1)).toMatchObject({
          count: [4],
        });
      });

    it("a value that is taken back is missing: in rows, in buckets, as the latest; a later one stands again", async () => {
      await store.write([row(1000, 5), row(2000, 900), row(3000, 7)]);
      await store.write([row(2000, null, 9), row(3000, null, 9)]);
      expect(await rows()).toEqual([row(1000, 5), row(2000, null, 9), row(3000, null, 9)]);
      expect(await store.latest(own)).toEqual(row(3000, null, 9));
      expect(await store.buckets(own, 0, 60_000, 1)).toMatchObject({
        max: [5],
        mean: [5],
        count: [1],
        flag: [1],
      });
      await store.write([row(3000, 8)]);
      expect(await store.buckets(own, 0, 60_000, 1)).toMatchObject({ max: [8], mean: [6.5], count: [2] });
    });

    it("an unknown series is empty, not an error; empty buckets are there", async () => {
      expect(await rows("point/nowhere/flow")).toEqual([]);
      expect(await store.latest("point/nowhere/flow")).toBeNull();
      expect(await store.buckets("point/nowhere/flow", 0, 3000, 3)).toEqual({
        bucketMs: 1000,
        t: [0, 1000, 2000],
        min: [null, null, null],
        mean: [null, null, null],
        max: [null, null, null],
        count: [0, 0, 0],
        flag: [9, 9, 9],
      });
    });

    it("a spike of one reading in a year is in the max; a gap of months is a gap; the mean is over the readings", async () => {
      const hourMs = 3_600_000;
      const yearMs = 365 * 24 * hourMs;
      // Every 6 h, nothing from day 100 to day 200.
      const isSilent = (tMs: number) => tMs >= 100 * 24 * hourMs && tMs < 200 * 24 * hourMs;
      const batch: SeriesRow[] = [];
      for (let tMs = 0; tMs < yearMs; tMs += 6 * hourMs) if (!isSilent(tMs)) batch.push(row(tMs, 5));
      const spikeMs = 300 * 24 * hourMs + 1234;
      batch.push(row(spikeMs, 900, 3));
      await store.write(batch);
      const buckets = await store.buckets(own, 0, yearMs, 73);
      expect(buckets.bucketMs).toBe(5 * 24 * hourMs);
      for (const [at, beginMs] of buckets.t.entries()) {
        const hasSpike = spikeMs >= beginMs && spikeMs < beginMs + buckets.bucketMs;
        expect(buckets.max[at]).toBe(isSilent(beginMs) ? null : hasSpike ? 900 : 5);
        expect(buckets.count[at]).toBe(isSilent(beginMs) ? 0 : hasSpike ? 21 : 20);
        expect(buckets.flag[at]).toBe(isSilent(beginMs) ? 9 : hasSpike ? 3 : 1);
        if (hasSpike) expect(buckets.mean[at]).toBeCloseTo((20 * 5 + 900) / 21, 9);
      }
    });

    it("numbers come back as they are, the greatest and the least too", async () => {
      const given = [
        Number.MAX_VALUE,
        -Number.MAX_VALUE,
        5e-324,
        0.1 + 0.2,
        1 / 3,
        -1e-300,
        0,
        123_456_789.125,
      ];
      await store.write(given.map((value, index) => row(1000 + index, value)));
      expect((await rows()).map(({ value }) => value)).toEqual(given);
    });

    it("names come back as they are, whatever letters they have", async () => {
      const names = ["reading/press/ec-1[S/m]", "a b", 'quote " \\', "komma, = und ÄÖÜ", "line/τ"];
      await store.write(names.map((name, index) => row(1000, index, 1, name)));
      expect((await store.names()).filter((name) => names.includes(name))).toEqual([...names].sort());
      for (const [index, name] of names.entries()) expect((await rows(name))[0]?.value).toBe(index);
    });

    it("buckets, from rows or roll-ups, are what the rows say: written in any order, late and twice", async () => {
      const minute = 60_000;
      let run = 0;
      const written = fc.array(
        fc.record({
          tMs: fc.integer({ min: 0, max: 300 * minute }),
          value: fc.option(fc.integer({ min: -1000, max: 1000 })),
          flag: fc.constantFrom<Flag>(1, 2, 3, 4),
        }),
        { minLength: 1, maxLength: 60 },
      );
      await fc.assert(
        fc.asyncProperty(written, fc.integer({ min: 1, max: 400 }), async (given, count) => {
          run += 1;
          const series = `run/${run}`;
          const batch = given.map(({ tMs, value, flag }) =>
            row(tMs, value, value === null ? 9 : flag, series),
          );
          for (let from = 0; from < batch.length; from += 7) await store.write(batch.slice(from, from + 7));
          const kept = new Map(batch.map((one) => [one.tMs, one]));
          const buckets = await store.buckets(series, 0, 300 * minute, count);
          for (const [at, beginMs] of buckets.t.entries()) {
            const inside = [...kept.values()].filter(
              ({ tMs }) =>
                tMs >= beginMs &&
                tMs <
                  Math.min(
                    beginMs + buckets.bucketMs,
                    buckets.bucketMs >= minute ? Number.POSITIVE_INFINITY : 300 * minute,
                  ),
            );
            const values = inside.flatMap(({ value }) => (value === null ? [] : [value]));
            expect(buckets.count[at]).toBe(values.length);
            expect(buckets.min[at]).toBe(values.length ? Math.min(...values) : null);
            expect(buckets.max[at]).toBe(values.length ? Math.max(...values) : null);
            if (values.length)
              expect(buckets.mean[at]).toBeCloseTo(
                values.reduce((sum, value) => sum + value, 0) / values.length,
                6,
              );
            const worst = inside.reduce((rank, { flag }) => Math.max(rank, precedence.indexOf(flag)), 0);
            expect(buckets.flag[at]).toBe(precedence[worst]);
          }
        }),
        { numRuns: runs },
      );
    });
  });
}
