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

/** Stored readings that came in one pack, or one that came late, and when the path takes them. */
export interface PastPack {
  /** Of one node and one time; temperatures before what they compensate, then by channel. */
  readonly readings: readonly Reading[];
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

  /** When `count` readings of `tMs` came; null where no row tells, undefined where rows have to be read first. */
  at(tMs: number, count: number): Arrival | null | undefined {
    for (;;) {
      const row = this.batch[this.index];
      if (row === undefined) return this.isOver ? null : undefined;
      if (row.tMs > tMs) return null;
      if (row.tMs < tMs || row.value === null) {
        this.index += 1;
        continue;
      }
      const came = arrivalOf(tMs, row.value);
      const lagMs = came.engineMs - tMs;
      if (lagMs <= usualLagMs)
        for (let reading = 0; reading < count; reading += 1) {
          this.lags[this.lagCount % keptLags] = lagMs;
          this.lagCount += 1;
        }
      return came;
    }
  }

  /** The median of the last lags, ms; 0 while none is known. */
  usualLag(): number {
    return this.lagCount === 0 ? 0 : medianInPlace(this.lags.slice(), Math.min(this.lagCount, keptLags));
  }
}

function before(a: PastPack, b: PastPack): number {
  return (
    a.at.engineMs - b.at.engineMs ||
    compareOrders(a.at.order, b.at.order) ||
    byTimeThenTemperature(a.readings[0] as Reading, b.readings[0] as Reading)
  );
}

/** Packs that wait until nothing can be taken before them any more. */
class Waiting {
  private packs: PastPack[] = [];
  private isInOrder = true;

  add(readings: readonly Reading[], at: Arrival): void {
    const next = { readings, at };
    const last = this.packs[this.packs.length - 1];
    if (last !== undefined && before(next, last) < 0) this.isInOrder = false;
    this.packs.push(next);
  }

  /** Takes away, in order, what is taken before `engineMs`. */
  take(engineMs: number): readonly PastPack[] {
    // Most come in order.
    if (!this.isInOrder) this.packs.sort(before);
    this.isInOrder = true;
    const { packs } = this;
    let count = 0;
    while (count < packs.length && (packs[count] as PastPack).at.engineMs < engineMs) count += 1;
    this.packs = packs.slice(count);
    packs.length = count;
    return packs;
  }
}

/** The source whose next reading is the oldest; null at the end. */
function oldestOf(sources: readonly Source[]): Source | null {
  let first: Source | null = null;
  for (const source of sources)
    if (source.head && (!first?.head || source.head.tMs < first.head.tMs)) first = source;
  return first;
}

/** Puts what the sources say into its order. Apart from whoever waits for rows: V8 makes little of a loop that lasts for months. */
class Merge {
  /** What can no longer change its place. */
  ready: readonly PastPack[] = [];
  private readonly sources: readonly Source[];
  private readonly arrivals: ReadonlyMap<string, NodeArrivals>;
  private readonly lifeOf: LifeOf;
  private readonly waiting = new Waiting();
  private sortedAtMs = Number.NEGATIVE_INFINITY;
  /** What a node said at a time, as far as it was read; null: none is under way. */
  private pack: { readonly node: string; readonly tMs: number; readonly readings: Reading[] } | null = null;

  constructor(sources: readonly Source[], arrivals: ReadonlyMap<string, NodeArrivals>, lifeOf: LifeOf) {
    this.sources = sources;
    this.arrivals = arrivals;
    this.lifeOf = lifeOf;
  }

  /** Goes on until some are ready, or whose rows have to be read first; null at the end, with the last of them ready. */
  run(): "ready" | Source | NodeArrivals | null {
    for (;;) {
      if (this.pack === null) {
        const first = oldestOf(this.sources);
        if (!first?.head) {
          this.ready = this.waiting.take(Number.POSITIVE_INFINITY);
          return null;
        }
        const { tMs } = first.head;
        this.pack = { node: first.node, tMs, readings: [] };
        if (tMs - this.sortedAtMs > handOnMs) {
          // Nothing that still comes can be taken before this: hand on what is older, in order.
          this.ready = this.waiting.take(tMs - maxAheadMs);
          this.sortedAtMs = tMs;
          if (this.ready.length > 0) return "ready";
        }
      }
      const dry = this.takePack(this.pack);
      if (dry !== null) return dry;
      this.pack = null;
    }
  }

  /** Takes what a node said at a time; gives whose rows have to be read first, null once all is taken. */
  private takePack({ node, tMs, readings }: NonNullable<Merge["pack"]>): Source | NodeArrivals | null {
    const { sources, waiting } = this;
    for (let index = 0; index < sources.length; index += 1) {
      const source = sources[index] as Source;
      if (source.node !== node) continue;
      while (source.head !== undefined && source.head.tMs === tMs) {
        readings.push(source.head);
        if (!source.advance()) return source;
      }
    }
    const of = this.arrivals.get(node) as NodeArrivals;
    const came = of.at(tMs, readings.length);
    if (came === undefined) return of;
    // No life is shorter than a usual lag is.
    const lagMs = came === null ? Number.POSITIVE_INFINITY : came.engineMs - tMs;
    if (came !== null && (lagMs <= usualLagMs || lagMs <= this.lifeOf(node))) waiting.add(readings, came);
    else {
      const late = takenLate(Math.round(tMs + of.usualLag()));
      for (const reading of readings) waiting.add([reading], late);
    }
    return null;
  }
}

/**
 * Stored readings of [fromMs, toMs) in their packs, some at a time, in the order in which the live path would have taken them: what was current when it
 * came at its own arrival, what came late at its own time and its node's usual lag.
 */
export async function* pastPacks(
  series: Store,
  names: readonly string[],
  { fromMs, toMs, lifeOf }: { readonly fromMs: number; readonly toMs: number; readonly lifeOf: LifeOf },
): AsyncGenerator<readonly PastPack[]> {
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
  const merge = new Merge(sources, arrivals, lifeOf);
  for (let dry = merge.run(); dry !== null; dry = merge.run())
    if (dry === "ready") yield merge.ready;
    else await dry.read();
  if (merge.ready.length > 0) yield merge.ready;
}
