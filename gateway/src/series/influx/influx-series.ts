import type { Flag } from "../../readings/index.ts";
import { BucketSums, type Stretch } from "../bucket-sums.ts";
import { rankOf } from "../flag-rank.ts";
import { lineOf, measurementOf, seriesOfTag, tagOf } from "../line-protocol.ts";
import type { SeriesBuckets, SeriesRow, SeriesStore, Written } from "../series-store.ts";
import { type InfluxClient, type InfluxTable, influxClient } from "./influx-client.ts";
import type { InfluxTarget } from "./influx-target.ts";

/** Rows that are asked for at once. */
const rowsAtOnce = 5000;
/** What a time in nanoseconds of 64 bits can be, ms: years 1677 to 2262. */
const [leastMs, greatestMs] = [-9_223_372_036_854, 9_223_372_036_853];

const quotedName = (name: string) => `"${name.replaceAll(/["\\]/g, "\\$&")}"`;
const quotedText = (text: string) => `'${text.replaceAll(/['\\]/g, "\\$&")}'`;
// As nanoseconds: what has a unit or is text is not read alike by all versions.
const timeOf = (ms: number) => `${BigInt(Math.ceil(Math.min(greatestMs, Math.max(leastMs, ms))))}000000`;

/** What all questions for rows of a series have in common. */
function ofSeries(series: string, { fromMs, toMs }: Stretch): string {
  const within = `time >= ${timeOf(fromMs)} AND time < ${timeOf(toMs)}`;
  return `FROM ${quotedName(measurementOf(series))} WHERE "series" = ${quotedText(tagOf(series))} AND ${within}`;
}

const ever: Stretch = { fromMs: leastMs, toMs: greatestMs };

function rowsOf(series: string, tables: readonly InfluxTable[]): SeriesRow[] {
  return (tables[0]?.values ?? []).map(([tMs, v, q]) => {
    const flag = (q ?? 9) as Flag;
    // A row that was taken back keeps its old value there: a field can be written over, but not removed.
    return { series, tMs: tMs as number, value: flag === 9 ? null : (v as number | null), flag };
  });
}

/** Series in a database of InfluxDB 1, 2 or 3: one point a row, as `lineOf` writes it. Calls reject with InfluxError. */
export class InfluxSeries implements SeriesStore {
  private readonly client: InfluxClient;

  /** A question waits for its answer so long, ms; 10 s. */
  constructor(target: InfluxTarget, timeoutMs?: number) {
    this.client = influxClient(target, timeoutMs);
  }

  /** Resolves when the database has all rows. Unlike in the embedded store, some may be there after a rejection. */
  async write(batch: readonly SeriesRow[]): Promise<Written> {
    await this.client.write(batch.map(lineOf));
    return { written: batch.length, replaced: null };
  }

  async *range(series: string, fromMs: number, toMs: number): AsyncGenerator<readonly SeriesRow[]> {
    for (let from = fromMs; from < toMs; ) {
      const asked = `SELECT "v", "q" ${ofSeries(series, { fromMs: from, toMs })} ORDER BY time LIMIT ${rowsAtOnce}`;
      const rows = rowsOf(series, await this.client.query(asked));
      if (rows.length > 0) yield rows;
      if (rows.length < rowsAtOnce) return;
      from = (rows.at(-1) as SeriesRow).tMs + 1;
    }
  }

  /** Buckets as any store gives them; of rows before `beforeMs` only, where that is given. */
  async buckets(
    series: string,
    fromMs: number,
    toMs: number,
    buckets: number,
    beforeMs = Number.POSITIVE_INFINITY,
  ): Promise<SeriesBuckets> {
    const sums = new BucketSums({ fromMs, toMs }, buckets);
    const asked = { fromMs: sums.asked.fromMs, toMs: Math.min(beforeMs, sums.asked.toMs) };
    const [where, by] = [ofSeries(series, asked), `GROUP BY time(${sums.bucketMs}ms) fill(none)`];
    const [values, flags] = await Promise.all([
      this.client.query(`SELECT min("v"), mean("v"), max("v"), count("v") ${where} AND "q" != 9 ${by}`),
      this.client.query(`SELECT distinct("q") ${where} ${by}`),
    ]);
    for (const [tMs, least, mean, greatest, count] of values[0]?.values ?? [])
      if (count)
        sums.addBucket(tMs as number, {
          count: count as number,
          total: (mean as number) * (count as number),
          least: least as number,
          greatest: greatest as number,
        });
    for (const [tMs, flag] of flags[0]?.values ?? [])
      if (flag !== null) sums.addRank(tMs as number, rankOf(flag as Flag));
    return sums.result();
  }

  async latest(series: string): Promise<SeriesRow | null> {
    const asked = `SELECT "v", "q" ${ofSeries(series, ever)} ORDER BY time DESC LIMIT 1`;
    return rowsOf(series, await this.client.query(asked))[0] ?? null;
  }

  async names(): Promise<readonly string[]> {
    const tables = await this.client.query('SHOW TAG VALUES WITH KEY = "series"');
    const names = tables.flatMap(({ columns, values }) => {
      const at = columns.indexOf("value");
      return values.map((row) => seriesOfTag(String(row[at])));
    });
    return [...new Set(names)].sort();
  }

  async close(): Promise<void> {}
}
