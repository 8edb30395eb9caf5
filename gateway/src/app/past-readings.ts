import { channelOfReadingSeries } from "../measurements/index.ts";
import { byTimeThenTemperature, type Reading } from "../readings/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";
import { median } from "../statistics/index.ts";
import { type Arrival, arrivalOf, arrivalSeriesOf } from "./arrivals.ts";

/** A node may be so far ahead of the gateway: its readings are taken before their own time. */
const maxAheadMs = 5 * 60_000;
/** A lag beyond this is no delay of the network. */
const usualLagMs = 60_000;

/** A stored reading, and when the path takes it. */
export interface PastReading {
  readonly reading: Reading;
  readonly at: Arrival;
}

type Store = Pick<SeriesStore, "range" | "names">;

/** How old a node's reading may be to count as current, ms. */
export type LifeOf = (node: string) => number;

interface Source {
  readonly node: string;
  head: Reading | undefined;
  readonly rows: AsyncGenerator<Reading>;
}

async function* readingsOf(series: Store, name: string, fromMs: number, toMs: number) {
  const source = channelOfReadingSeries(name);
  if (!source) return;
  const { channel, unit } = source;
  const node = channel.slice(0, channel.indexOf("/"));
  for await (const rows of series.range(name, fromMs, toMs))
    for (const row of rows) {
      const reading = readingOf(channel, node, unit, row);
      if (reading) yield reading;
    }
}

function readingOf(channel: string, node: string, unit: string | null, row: SeriesRow): Reading | null {
  const { value, flag, tMs } = row;
  if (value === null || flag === 4 || flag === 9) return null;
  return { kind: "reading", seq: 0, node, channel, unit, value, tMs, receivedAtMs: tMs, flag };
}

/** The arrivals of one node, asked for in the order of their readings' times. */
class NodeArrivals {
  private readonly rows: AsyncIterator<readonly SeriesRow[]>;
  private batch: readonly SeriesRow[] = [];
  private index = 0;
  private readonly lags: number[] = [];
  private current: Arrival | null = null;

  constructor(series: Store, node: string, fromMs: number, toMs: number) {
    this.rows = series.range(arrivalSeriesOf(node), fromMs, toMs)[Symbol.asyncIterator]();
  }

  /** When readings of `tMs` came; null where no row tells. */
  async at(tMs: number): Promise<Arrival | null> {
    for (;;) {
      const row = this.batch[this.index];
      if (row === undefined) {
        const next = await this.rows.next();
        if (next.done) return null;
        this.batch = next.value;
        this.index = 0;
        continue;
      }
      if (row.tMs > tMs) return null;
      if (row.tMs < tMs || row.value === null) {
        this.index += 1;
        continue;
      }
      this.current = arrivalOf(row.tMs, row.value);
      const lagMs = this.current.engineMs - tMs;
      if (lagMs <= usualLagMs) this.lags.push(lagMs);
      if (this.lags.length > 101) this.lags.shift();
      return this.current;
    }
  }

  /** The median of the last lags, ms; 0 while none is known. */
  usualLag(): number {
    return this.lags.length === 0 ? 0 : median(this.lags);
  }
}

function before(a: PastReading, b: PastReading): number {
  return (
    a.at.engineMs - b.at.engineMs || a.at.order - b.at.order || byTimeThenTemperature(a.reading, b.reading)
  );
}

/**
 * Stored readings of [fromMs, toMs) in the order in which the live path would have taken them: what was current when it
 * came at its own arrival, what came late at its own time and its node's usual lag.
 */
export async function* pastReadings(
  series: Store,
  names: readonly string[],
  { fromMs, toMs, lifeOf }: { readonly fromMs: number; readonly toMs: number; readonly lifeOf: LifeOf },
): AsyncGenerator<PastReading> {
  const sources: Source[] = [];
  for (const name of names) {
    const node = channelOfReadingSeries(name)?.channel.split("/")[0];
    if (node === undefined) continue;
    const rows = readingsOf(series, name, fromMs, toMs);
    sources.push({ node, rows, head: (await rows.next()).value as Reading | undefined });
  }
  const arrivals = new Map(
    sources.map(({ node }) => [node, new NodeArrivals(series, node, fromMs, toMs)] as const),
  );
  let waiting: PastReading[] = [];
  let sortedAtMs = Number.NEGATIVE_INFINITY;
  for (;;) {
    let first: Source | null = null;
    for (const source of sources)
      if (source.head && (!first?.head || source.head.tMs < first.head.tMs)) first = source;
    if (!first?.head) break;
    const reading = first.head;
    if (reading.tMs - sortedAtMs > maxAheadMs) {
      // Nothing that still comes can be taken before this: hand on what is older, in order.
      const safeMs = reading.tMs - maxAheadMs;
      waiting.sort(before);
      const left = waiting.findIndex(({ at }) => at.engineMs >= safeMs);
      const ready = left === -1 ? waiting.splice(0) : waiting.splice(0, left);
      yield* ready;
      sortedAtMs = reading.tMs;
    }
    const of = arrivals.get(first.node) as NodeArrivals;
    const came = await of.at(reading.tMs);
    const isLate = came === null || came.engineMs - reading.tMs > lifeOf(first.node);
    const at = isLate
      ? { engineMs: Math.round(reading.tMs + of.usualLag()), order: Number.MAX_SAFE_INTEGER }
      : came;
    waiting.push({ reading, at });
    first.head = (await first.rows.next()).value as Reading | undefined;
  }
  waiting = waiting.sort(before);
  yield* waiting;
}
