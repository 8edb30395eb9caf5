import type { MessagePort } from "node:worker_threads";
import { emptyBuckets } from "../bucket-sums.ts";
import type { Columns } from "../columns.ts";
import { type HeadView, SeriesHead } from "../head.ts";
import { memoryOf } from "../named-rows.ts";
import { batchOf, besideBit, rowsOf } from "../row-batch.ts";
import type {
  SeriesBuckets,
  SeriesIntake,
  SeriesRow,
  SeriesStaging,
  SeriesStore,
  Written,
} from "../series-store.ts";
import { batchLogOf, type Threads, type ToldLog } from "./batch-log-of.ts";
import { Mender } from "./mender.ts";
import type { MoveProgress } from "./moving.ts";
import type { OpenSettings, SeriesTrouble } from "./open-settings.ts";
import type { ReaderRequest, ThreadTold, WriterReady } from "./requests.ts";
import { SeriesNames } from "./series-names.ts";
import { stagingOf } from "./staging-of.ts";
import { startThreads } from "./start-threads.ts";
import type { RangePiece } from "./store-reader.ts";
import { ToldEarly } from "./told-early.ts";

/** Rows that wait no longer than this for the file, without a checkpoint. */
const commitEveryMs = 10_000;
/** So many are written at once, without waiting for that. */
const commitRows = 150_000;
/** A batch that could not be written is tried again after so long. */
const againAfterMs = 1000;
/** 32 MB of rows may wait for the file; then intake does. */
const maxWaitingRows = 1_500_000;

/** The embedded store of a data folder: the head here, the file with its threads. */
export class SqliteSeries implements SeriesStore, SeriesIntake {
  private readonly threads: Threads;
  private readonly known: SeriesNames;
  private readonly head: SeriesHead;
  private committing: Promise<void> = Promise.resolve();
  private isCommitAsked = false;
  private timer: NodeJS.Timeout | undefined;
  private seq: number | null = null;
  private isStored = false;
  private stored: number | null;
  private moving: MoveProgress | null;
  private stepTrouble: string | null = null;
  /** Pieces of the file that could not be read, by the thread that met them. */
  private readonly unreadable = { writer: 0, reader: 0 };
  private readonly mender: Mender;
  private drained: (() => void)[] = [];
  /** Questions under way, each with a view of the head. */
  private asking = 0;

  private constructor(path: string, threads: Threads, ready: WriterReady) {
    this.threads = threads;
    this.log = batchLogOf(threads);
    const commit = (isDurable: boolean) => this.commit(isDurable);
    this.known = new SeriesNames(ready.names);
    this.staging = stagingOf(threads.writer, this.known, commit);
    this.mender = new Mender(path, threads);
    this.head = new SeriesHead(ready.rows);
    this.stored = ready.storedSeq;
    this.moving = ready.moving;
  }

  static async open({ lastSeq, onMended, ...starting }: OpenSettings): Promise<SqliteSeries> {
    let opened: SqliteSeries | null = null;
    const early = new ToldEarly<SqliteSeries>();
    const { threads, ready } = await startThreads(starting, {
      writerAgain: (said) => opened?.head.committed(said.rows),
      mended: onMended,
      told: (told, by) => early.tell((store) => store.told(told, by)),
      damage: (why) => early.tell((store) => void store.mender.mend(why)),
    });
    opened = new SqliteSeries(starting.path, threads, ready);
    if (lastSeq !== undefined) await opened.knowNoneAfter(lastSeq);
    if (opened.moving?.left === 0) await opened.leaveEarlier();
    early.hear(opened);
    return opened;
  }

  // What the journal does not have is run under the same numbers again.
  private async knowNoneAfter(seq: number): Promise<void> {
    if (this.stored === null || this.stored <= seq) return;
    await this.threads.writer.ask({ type: "know-none-after", seq });
    this.stored = seq;
  }

  private told({ moving, trouble, unreadable }: ThreadTold, by: "writer" | "reader"): void {
    if (trouble !== undefined) this.stepTrouble = trouble;
    if (unreadable !== undefined) this.unreadable[by] = Math.max(this.unreadable[by], unreadable);
    if (!moving) return;
    this.moving = moving;
    if (moving.left === 0) void this.leaveEarlier().catch(() => {});
  }

  private async leaveEarlier(): Promise<void> {
    if (!this.threads.reader.isResting()) await this.threads.reader.ask({ type: "leave-earlier" });
    await this.threads.writer.ask({ type: "remove-earlier" });
    this.moving = null;
  }

  /** The last entry all rows of which were stored at the opening; null where none was ever told. */
  get storedSeq(): number | null {
    return this.stored;
  }

  begin(seq: number): void {
    this.seq = seq;
    this.isStored = this.stored !== null && seq <= this.stored;
  }

  numberOf(series: string): number {
    return this.known.numberOf(series);
  }

  append(series: number, tMs: number, value: number, flag: number): void {
    if (this.isStored) return;
    this.head.append(series, tMs, value, flag);
    if (this.head.waiting >= commitRows) this.commitSoon(0);
    else this.timer ??= setTimeout(() => this.commitSoon(0), commitEveryMs).unref();
  }

  add(row: SeriesRow): void {
    const flag = row.beside ? row.flag | besideBit : row.flag;
    this.append(this.numberOf(row.series), row.tMs, row.value ?? Number.NaN, flag);
  }

  get waiting(): number {
    return this.head.waiting;
  }

  get hasRoom(): boolean {
    return this.head.waiting < maxWaitingRows;
  }

  whenRoom(): Promise<void> {
    if (this.hasRoom) return Promise.resolve();
    return new Promise((resolve) => this.drained.push(resolve));
  }

  sync(): Promise<void> {
    return this.commit(true);
  }

  /** One at a time: rows that come while it runs are in the next one. */
  private commitSoon(afterMs: number): void {
    if (this.isCommitAsked) return;
    this.isCommitAsked = true;
    const commit = async () => {
      try {
        if (this.head.waiting > 0) await this.commit(false);
        this.isCommitAsked = false;
      } catch {
        this.isCommitAsked = false;
        this.commitSoon(againAfterMs);
      }
    };
    if (afterMs > 0) setTimeout(() => void commit(), afterMs).unref();
    else void commit();
  }

  /** Writes what the head holds, after what is being written. */
  private commit(isDurable: boolean): Promise<void> {
    clearTimeout(this.timer);
    this.timer = undefined;
    const committed = this.committing
      .catch(() => {})
      .then(async () => {
        const names = this.known.unwritten();
        const rows = (await this.threads.writer.ask({
          type: "commit",
          names,
          head: this.head.view(),
          seq: this.isStored || this.mender.isMended ? null : this.seq,
          isDurable,
        })) as number;
        this.known.written(names);
        this.head.committed(rows);
        this.log.stored();
        if (this.asking === 0) this.head.reuse();
        if (this.hasRoom) for (const resolve of this.drained.splice(0)) resolve();
      });
    this.committing = committed;
    return committed;
  }

  async write(batch: readonly SeriesRow[]): Promise<Written> {
    if (this.head.waiting > 0) await this.commit(false);
    const columns = batchOf(batch, (name) => this.numberOf(name));
    const names = this.known.unwritten();
    const request = { type: "write", names, batch: columns } as const;
    const done = await this.threads.writer.ask(request, memoryOf(columns));
    this.known.written(names);
    this.log.stored();
    return done as Written;
  }

  /** Asks with the head as it is now: rows beside others are settled only in the file. */
  private async askWithHead(request: (head: HeadView) => ReaderRequest): Promise<unknown> {
    if (this.head.hasBeside) await this.commit(false);
    this.asking += 1;
    try {
      return await this.threads.reader.ask(request(this.head.view()));
    } finally {
      this.asking -= 1;
      if (this.asking === 0) this.head.reuse();
    }
  }

  async *range(series: string, fromMs: number, toMs: number): AsyncGenerator<readonly SeriesRow[]> {
    const number = this.known.find(series);
    if (number === null) return;
    for (let from: number | null = fromMs; from !== null && from < toMs; ) {
      const stretch = { series: number, fromMs: from, toMs };
      const answer = await this.askWithHead((head) => ({ type: "range", ...stretch, head }));
      const { rows, nextMs } = answer as RangePiece;
      if (rows.tMs.length > 0) yield rowsOf(series, rows);
      from = nextMs;
    }
  }

  async buckets(series: string, fromMs: number, toMs: number, buckets: number): Promise<SeriesBuckets> {
    const number = this.known.find(series);
    const away = this.threads.reader.trouble();
    if (number === null && away === null) return emptyBuckets({ fromMs, toMs }, buckets);
    if (number === null) throw new Error(`The store's thread is away: ${away}`);
    const asked = { type: "buckets", series: number, fromMs, toMs, buckets } as const;
    return (await this.askWithHead((head) => ({ ...asked, head }))) as SeriesBuckets;
  }

  async latest(series: string): Promise<SeriesRow | null> {
    const number = this.known.find(series);
    if (number === null) return null;
    const rows = (await this.askWithHead((head) => ({ type: "latest", series: number, head }))) as Columns;
    return rowsOf(series, rows)[0] ?? null;
  }

  async names(): Promise<readonly string[]> {
    return this.known.sorted();
  }

  /** The log of batches, for whoever sends the rows on. */
  readonly log: ToldLog;

  /** Where a derivation puts its rows until it comes into force. */
  readonly staging: SeriesStaging;

  /** What is wrong: a thread that is away, or work by itself that fails; null while all is well. */
  trouble(): SeriesTrouble | null {
    const away = this.threads.writer.trouble() ?? this.threads.reader.trouble();
    if (away !== null) return { kind: "thread", text: away };
    const trouble = this.mender.trouble ?? this.stepTrouble;
    if (trouble !== null) return { kind: "file", text: trouble };
    const pieces = Math.max(this.unreadable.writer, this.unreadable.reader);
    return pieces === 0 ? null : { kind: "unreadable", text: `${pieces} pieces of past hours` };
  }

  /**
   * The disk is short of space: the rows of the oldest day go, their roll-ups stay. Gives the bytes that came free; 0 where
   * there is nothing more to give, null while another program reads the file, which keeps it as long as it is.
   */
  async freeOldest(): Promise<number | null> {
    return (await this.threads.writer.ask({ type: "free-oldest" })) as number | null;
  }

  /** How far a store of the first schema is moved; null when there is none. */
  moveProgress(): MoveProgress | null {
    return this.moving;
  }

  /** Takes in what writes beside it on its writing thread; null while that is away. What is there ends with the store. */
  takeIn(service: URL, data: unknown): MessagePort | null {
    return this.threads.writer.takeIn(service, data);
  }

  async close(): Promise<void> {
    clearTimeout(this.timer);
    if (this.head.waiting > 0) await this.commit(true).catch(() => {});
    // The reader first: the last one that may write puts the log into the file, and the file alone is then a whole copy.
    for (const thread of [this.threads.reader, this.threads.writer]) {
      if (!thread.isResting()) await thread.ask({ type: "close" }).catch(() => {});
      await thread.end();
    }
  }
}
