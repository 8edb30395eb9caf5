import type { InfluxSeries } from "./influx/influx-series.ts";
import type { SeriesBuckets, SeriesStore } from "./series-store.ts";

type Buckets = Pick<SeriesStore, "buckets">;

const isKnown = ({ count, flag }: SeriesBuckets, at: number) => (count[at] as number) > 0 || flag[at] !== 9;

/** Where the first bucket begins of which the store knows anything; the end where it knows nothing. */
function knownFrom(own: SeriesBuckets): number {
  const { t, bucketMs } = own;
  const first = t.findIndex((_, at) => isKnown(own, at));
  return first === -1 ? (t.at(-1) ?? 0) + bucketMs : (t[first] as number);
}

function joined(older: SeriesBuckets, newer: SeriesBuckets, fromMs: number): SeriesBuckets {
  // In the bucket in which the store begins, it has a part of the rows.
  const isFuller = (at: number) => (older.count[at] as number) > (newer.count[at] as number);
  const pick = <Value>(a: readonly Value[], b: readonly Value[]) =>
    newer.t.map((tMs, at) => (tMs < fromMs || (tMs === fromMs && isFuller(at)) ? a[at] : b[at]) as Value);
  return {
    bucketMs: newer.bucketMs,
    t: newer.t,
    min: pick(older.min, newer.min),
    mean: pick(older.mean, newer.mean),
    max: pick(older.max, newer.max),
    count: pick(older.count, newer.count),
    flag: pick(older.flag, newer.flag),
  };
}

/** Whether the store knows anything of the bucket before the first one: it does not begin within that one then. */
async function isKnownBefore(
  local: Buckets,
  series: string,
  { t, bucketMs }: SeriesBuckets,
): Promise<boolean> {
  const firstMs = t[0] as number;
  const before = await local.buckets(series, firstMs - bucketMs, firstMs, 1);
  return before.t.some((_, at) => isKnown(before, at));
}

/**
 * Buckets of the embedded store, and before the first one of which it knows anything those of InfluxDB; that one itself is told
 * by who has more of it. One answer, gaps as gaps. While InfluxDB is away the embedded store answers alone.
 */
export function withInflux(
  local: Buckets,
  far: Pick<InfluxSeries, "buckets">,
  isThere: () => boolean,
): Buckets {
  return {
    async buckets(series, fromMs, toMs, buckets) {
      const own = await local.buckets(series, fromMs, toMs, buckets);
      const from = knownFrom(own);
      if (own.t.length === 0 || !isThere()) return own;
      if (from === own.t[0] && (await isKnownBefore(local, series, own))) return own;
      try {
        const before = Math.min(from, own.t.at(-1) as number) + own.bucketMs;
        return joined(await far.buckets(series, fromMs, toMs, buckets, before), own, from);
      } catch {
        // The sender says that it is away.
        return own;
      }
    },
  };
}
