import { nodeOf } from "../line/index.ts";
import { channelOfReadingSeries } from "../measurements/index.ts";
import { byTemperatureThenChannel, byTimeThenTemperature, type Reading } from "../readings/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";
import { medianInPlace } from "../statistics/index.ts";
import { type Arrival, arrivalOf, arrivalSeriesOf, compareOrders, takenLate } from "./arrivals.ts";

/** A node may be so far ahead of the gateway: its readings are taken before their own time. */
const maxAheadMs = 5 * 60_000;
/** So often what can no longer change its place is handed on: little waits, and dies young. */
const handOnMs = 60_000;
/** A lag beyond this is no delay of the network. */
const usualLagMs = 60_000;
/** The usual lag is the median of so many. */
const keptLags = 101;

/** A stored reading, and when the path takes it. */
export interface PastReading {
  readonly reading: Reading;
  readonly at: Arrival;
}

type Store = Pick<SeriesStore, "range" | "names">;

/** How old a node's reading may be to count as current, ms. */
export type LifeOf = (node: string) => number;

/** Stored readings of one channel, by time. Rows come in batches: only where one is used up something is waited for. */
class Source {
  readonly node: string;
  /** The next reading; undefined at the end. */
  head: Reading | undefined;
  private readonly channel: string;
  private readonly unit: string | null;
  private readonly rows: AsyncIterator<readonly SeriesRow[]>;
  private batch: readonly SeriesRow[] = [];
  private index = 0;

  constructor(
    { channel, unit }: { readonly channel: string; readonly unit: string | null },
    rows: AsyncIterable<readonly SeriesRow[]>,
  ) {
    this.channel = channel;
    this.unit = unit;
    this.node = nodeOf(channel);
    this.rows = rows[Symbol.asyncIterator]();
  }

  /** Goes to the next reading of the batch; false where rows have to be read first. */
  advance(): boolean {
    while (this.index < this.batch.length) {
      const row = this.batch[this.index] as SeriesRow;
      this.index += 1;
      const reading = readingOf(this.channel, this.node, this.unit, row);
      if (!reading) continue;
      this.head = reading;
      return true;
    }
    return false;
  }

  /** Reads rows until there is a reading, or no more. */
  async read(): Promise<void> {
    do {
      const next = await this.rows.next();
      if (next.done) {
        this.head = undefined;
        return;
      }
      this.batch = next.value;
      this.index = 0;
    } while (!this.advance());
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
  private isOver = false;
  /** The last lags of what was current, in a ring. */
  private readonly lags = new Float64Array(keptLags);
  private lagCount = 0;
  private current: Arrival | null = null;
  private currentMs = Number.NaN;

  constructor(series: Store, node: string, fromMs: number, toMs: number) {
    this.rows = series.range(arrivalSeriesOf(node), fromMs, toMs)[Symbol.asyncIterator]();
  }

  /** Reads the next rows. */
  async read(): Promise<void> {
    const next = await this.rows.next();
    this.isOver = next.done === true;
    this.batch = next.done ? [] : next.value;
    this.index = 0;
  }

  /** When readings of `tMs` came; null where no row tells, undefined where rows have to be read first. */
  at(tMs: number): Arrival | null | undefined {
    for (;;) {
      const row = this.batch[this.index];
      if (row === undefined) return this.isOver ? null : undefined;
      if (row.tMs > tMs) return null;
      if (row.tMs < tMs || row.value === null) {
        this.index += 1;
        continue;
      }
      let { current } = this;
      // A pack's readings come at one time.
      if (current === null || this.currentMs !== tMs) {
        current = arrivalOf(tMs, row.value);
        this.current = current;
        this.currentMs = tMs;
      }
      const lagMs = current.engineMs - tMs;
      if (lagMs <= usualLagMs) {
        this.lags[this.lagCount % keptLags] = lagMs;
        this.lagCount += 1;
      }
      return current;
    }
  }

  /** The median of the last lags, ms; 0 while none is known. */
  usualLag(): number {
    return this.lagCount === 0 ? 0 : medianInPlace(this.lags.slice(), Math.min(this.lagCount, keptLags));
  }
}

function before(a: PastReading, b: PastReading): number {
  return (
    a.at.engineMs - b.at.engineMs ||
    compareOrders(a.at.order, b.at.order) ||
    byTimeThenTemperature(a.reading, b.reading)
  );
}

/** Readings that wait until nothing can be taken before them any more. */
class Waiting {
  private readings: PastReading[] = [];
  private isInOrder = true;

  add(next: PastReading): void {
    const last = this.readings[this.readings.length - 1];
    if (last !== undefined && before(next, last) < 0) this.isInOrder = false;
    this.readings.push(next);
  }

  /** Takes away, in order, what is taken before `engineMs`. */
  take(engineMs: number): readonly PastReading[] {
    // Most come in order.
    if (!this.isInOrder) this.readings.sort(before);
    this.isInOrder = true;
    const { readings } = this;
    let count = 0;
    while (count < readings.length && (readings[count] as PastReading).at.engineMs < engineMs) count += 1;
    this.readings = readings.slice(count);
    readings.length = count;
    return readings;
  }
}

/** The source whose next reading is the oldest; null at the end. */
function oldestOf(sources: readonly Source[]): Source | null {
  let first: Source | null = null;
  for (const source of sources)
    if (source.head && (!first?.head || source.head.tMs < first.head.tMs)) first = source;
  return first;
}

/**
 * Stored readings of [fromMs, toMs), some at a time, in the order in which the live path would have taken them: what was current when it
 * came at its own arrival, what came late at its own time and its node's usual lag.
 */
export async function* pastReadings(
  series: Store,
  names: readonly string[],
  { fromMs, toMs, lifeOf }: { readonly fromMs: number; readonly toMs: number; readonly lifeOf: LifeOf },
): AsyncGenerator<readonly PastReading[]> {
  const sources: Source[] = [];
  const heard = names.flatMap((name) => {
    const known = channelOfReadingSeries(name);
    return known ? [{ ...known, name }] : [];
  });
  // Of what is of one time the first source's comes first: then a pack lies in order as it is read.
  for (const known of heard.sort(byTemperatureThenChannel)) {
    const source = new Source(known, series.range(known.name, fromMs, toMs));
    await source.read();
    sources.push(source);
  }
  const arrivals = new Map(
    sources.map(({ node }) => [node, new NodeArrivals(series, node, fromMs, toMs)] as const),
  );
  const waiting = new Waiting();
  let sortedAtMs = Number.NEGATIVE_INFINITY;
  for (;;) {
    const first = oldestOf(sources);
    if (!first?.head) break;
    const reading = first.head;
    if (reading.tMs - sortedAtMs > handOnMs) {
      // Nothing that still comes can be taken before this: hand on what is older, in order.
      const ready = waiting.take(reading.tMs - maxAheadMs);
      if (ready.length > 0) yield ready;
      sortedAtMs = reading.tMs;
    }
    const of = arrivals.get(first.node) as NodeArrivals;
    let came = of.at(reading.tMs);
    for (; came === undefined; came = of.at(reading.tMs)) await of.read();
    const at =
      came === null || came.engineMs - reading.tMs > lifeOf(first.node)
        ? takenLate(Math.round(reading.tMs + of.usualLag()))
        : came;
    waiting.add({ reading, at });
    if (!first.advance()) await first.read();
  }
  const left = waiting.take(Number.POSITIVE_INFINITY);
  if (left.length > 0) yield left;
}
