import { type SeriesBuckets, withInflux } from "@drumlin/gateway/series";
import fc from "fast-check";
import { expect, it } from "vitest";

/** Ten buckets of a second; `values` by bucket, null where nothing is known. */
const bucketsOf = (values: readonly (number | null)[]): SeriesBuckets => ({
  bucketMs: 1000,
  t: values.map((_, at) => at * 1000),
  min: values,
  mean: values,
  max: values,
  count: values.map((value) => (value === null ? 0 : 1)),
  flag: values.map((value) => (value === null ? 9 : 1)),
});
const __ = null;

/** What is answered where the store has `own` and InfluxDB `far`; `before`: until when InfluxDB was asked. */
async function answered(
  own: readonly (number | null)[],
  far: readonly (number | null)[] | Error,
  isThere = true,
) {
  let before: number | null = null;
  const both = withInflux(
    { buckets: async () => bucketsOf(own) },
    {
      async buckets(_series, _fromMs, _toMs, _buckets, beforeMs) {
        before = beforeMs ?? null;
        if (far instanceof Error) throw far;
        return bucketsOf(far.map((value, at) => (at * 1000 < (beforeMs ?? 0) ? value : null)));
      },
    },
    () => isThere,
  );
  const { max, flag } = await both.buckets("point/supply/flow", 0, 6000, 6);
  return { max, gaps: flag.filter((one) => one === 9).length, before };
}

it.each([
  ["the store has all: InfluxDB is not asked", [1, __, 3, 4], [9, 9, 9, 9], true, [1, __, 3, 4], null],
  [
    "the old part is read from InfluxDB, with its gaps",
    [__, __, 3, 4],
    [7, __, 9, 9],
    true,
    [7, __, 3, 4],
    3000,
  ],
  ["the store knows nothing", [__, __, __, __], [7, __, 9, 6], true, [7, __, 9, 6], 4000],
  ["InfluxDB is away", [__, __, 3, 4], [7, 7, 7, 7], false, [__, __, 3, 4], null],
  ["InfluxDB does not answer", [__, __, 3, 4], new Error("away"), true, [__, __, 3, 4], 3000],
] as const)("%s", async (_, own, far, isThere, max, before) => {
  expect(await answered(own, far, isThere)).toEqual({
    max,
    gaps: max.filter((value) => value === null).length,
    before,
  });
});

it("of a time of which the store has only a bad reading it knows, and InfluxDB is not asked", async () => {
  const own = { ...bucketsOf([__, 2]), flag: [4, 1] as const };
  const { buckets } = withInflux(
    { buckets: async (_, fromMs) => (fromMs < 0 ? { ...own, flag: [9, 4] as const } : own) },
    { buckets: async () => bucketsOf([9, 9]) },
    () => true,
  );
  expect((await buckets("point/supply/flow", 0, 2000, 2)).max).toEqual([__, 2]);
});

interface Row {
  readonly tMs: number;
  readonly value: number;
}

/** Six buckets of a second of rows, one after the other. */
function summedUp(rows: readonly Row[]): SeriesBuckets {
  const inBucket = [0, 1, 2, 3, 4, 5].map((at) =>
    rows.filter(({ tMs }) => tMs >= at * 1000 && tMs < (at + 1) * 1000).map(({ value }) => value),
  );
  const of = (give: (values: readonly number[]) => number) =>
    inBucket.map((values) => (values.length === 0 ? null : give(values)));
  return {
    bucketMs: 1000,
    t: inBucket.map((_, at) => at * 1000),
    min: of((values) => Math.min(...values)),
    mean: of((values) => values.reduce((sum, value) => sum + value, 0) / values.length),
    max: of((values) => Math.max(...values)),
    count: inBucket.map(({ length }) => length),
    flag: inBucket.map(({ length }) => (length === 0 ? 9 : 1)),
  };
}

it("a store that knows the time before a chart is not doubted: InfluxDB is not asked for its first bucket", async () => {
  const asked: (readonly [number, number])[] = [];
  let isFarAsked = false;
  const { buckets } = withInflux(
    {
      async buckets(_, fromMs, toMs) {
        asked.push([fromMs, toMs]);
        return bucketsOf([1, 2]);
      },
    },
    {
      async buckets() {
        isFarAsked = true;
        return bucketsOf([9, 9]);
      },
    },
    () => true,
  );
  expect((await buckets("point/supply/flow", 0, 2000, 2)).max).toEqual([1, 2]);
  expect([asked, isFarAsked]).toEqual([
    [
      [0, 2000],
      [-1000, 0],
    ],
    false,
  ]);
});

it("one reading's spike is in the greatest value wherever the store begins, and a gap stays one", async () => {
  const row = fc.record({ tMs: fc.integer({ min: 0, max: 5999 }), value: fc.integer({ min: 0, max: 99 }) });
  const property = fc.asyncProperty(
    fc.array(row, { maxLength: 12 }),
    fc.integer({ min: 0, max: 5999 }),
    fc.integer({ min: -1200, max: 1200 }),
    async (others, storeBeginsMs, beside) => {
      const rows = [...others, { tMs: Math.min(5999, Math.max(0, storeBeginsMs + beside)), value: 5000 }];
      const { buckets } = withInflux(
        {
          // Of times before the six buckets it knows nothing.
          buckets: async (_, fromMs) =>
            summedUp(rows.filter(({ tMs }) => fromMs >= 0 && tMs >= storeBeginsMs)),
        },
        { buckets: async (...[, , , , before = 0]) => summedUp(rows.filter(({ tMs }) => tMs < before)) },
        () => true,
      );
      expect(await buckets("point/supply/flow", 0, 6000, 6)).toEqual(summedUp(rows));
    },
  );
  await fc.assert(property, { numRuns: 500 });
});
