import type { Behind, OwedRange, SeriesBatch } from "../batch-log.ts";
import { InDoubt, stretchesOf } from "./in-doubt.ts";
import type { InfluxCode } from "./influx-outcome.ts";
import type { InfluxSenderOptions } from "./influx-sender-options.ts";
import type { InfluxState } from "./influx-state.ts";
import type { InfluxAnswer } from "./requests.ts";
import { Rest } from "./rest.ts";
import { rowsAsBatch } from "./rows-as-batch.ts";
import { sentRows } from "./sent-rows.ts";
import { SetAsides } from "./set-aside.ts";
import { ToldFailures } from "./told-failures.ts";

/** The follower's name in the log of batches. */
const follower = "influx";
/** While there is more to send it is asked only so often how far the database is behind. */
const countEveryMs = 5000;
const followEveryMs = 30_000;

/** Follows the log of batches by a cursor into InfluxDB: the store's file is the memory, so an outage of days needs no one. */
export class InfluxSender {
  private readonly options: InfluxSenderOptions;
  private readonly asides: SetAsides;
  private readonly doubts = new InDoubt();
  /** What was told of them names a write that is over. */
  private isToldOld = false;
  private readonly failures = new Map<InfluxCode, number>();
  private readonly told: ToldFailures;
  private failure: InfluxState["failure"] = null;
  private sent = 0;
  private behind: Behind = { batches: 0, owed: 0, sinceMs: null };
  private wholeAtMs: number;
  private followedAtMs = Number.NEGATIVE_INFINITY;
  private countedAtMs = Number.NEGATIVE_INFINITY;
  /** Of the rows of the batch under way that are sent, those that are there already. */
  private under: { readonly id: number; readonly rows: number } | null = null;
  private isChecked = false;
  private isOwedNext = false;
  /** Ends with what is there now. */
  private isLast = false;
  private isStopped = false;
  private readonly rest = new Rest();
  private leaveLog = () => {};
  private running: Promise<void> = Promise.resolve();

  constructor(options: InfluxSenderOptions) {
    this.options = options;
    this.asides = new SetAsides(options.aside);
    this.told = new ToldFailures(options.pace.goodForMs ?? 0, options.onChange);
    this.doubts.note(options.inDoubt, options.steadyMs());
    this.wholeAtMs = options.steadyMs();
  }

  /** Begins: what is stored from here on is sent. Never rejects: what fails is tried again. */
  async start(): Promise<void> {
    await this.follow().catch(() => {});
    // Before anybody asks: that nothing waits is said only once it is known.
    await this.count(true);
    this.leaveLog = this.options.log.onStored(() => this.rest.stored());
    this.running = this.run();
  }

  private async run(): Promise<void> {
    let isOver = false;
    while (!this.isStopped && !isOver) {
      let waitMs = 0;
      // Whoever asked for the last of it while this looked has stored it before: it is looked once more.
      const isLast = this.isLast;
      let isFailing = false;
      this.rest.looks();
      try {
        await this.follow();
        await this.oweDoubts();
        await this.check();
        const hasMore = await this.turn();
        this.failure = null;
        this.told.good(this.options.steadyMs());
        if (!hasMore) waitMs = this.options.pace.lookEveryMs;
      } catch (thrown) {
        isFailing = true;
        waitMs = this.failed(thrown);
      }
      // Nothing is on its way any more; the next write tells it itself, where one follows.
      if (this.isToldOld && waitMs > 0) await this.tellDoubts();
      isOver = isLast && waitMs > 0;
      await this.count(waitMs > 0);
      if (waitMs === 0 || this.isStopped || isOver || this.isLast !== isLast) continue;
      // A new batch makes no server come back.
      await (isFailing ? this.rest.wait(waitMs) : this.rest.untilNew(waitMs));
    }
    if (this.isToldOld) await this.tellDoubts();
  }

  /** The store's file may have been made anew: it knows nobody then. */
  private async follow(): Promise<void> {
    const nowMs = this.options.steadyMs();
    if (nowMs - this.followedAtMs < followEveryMs) return;
    await this.options.log.follow(follower);
    this.followedAtMs = nowMs;
  }

  /** What a write without an answer may have overwritten is written once more, as it stands here now. */
  private async oweDoubts(): Promise<void> {
    const nowMs = this.options.steadyMs();
    const ranges = this.doubts.over(nowMs);
    if (ranges.length === 0) return;
    await this.options.log.owe(follower, ranges);
    this.doubts.settled(nowMs);
    await this.tellDoubts();
  }

  private tellDoubts(): Promise<void> {
    this.isToldOld = this.doubts.underWay.length > 0;
    return this.options.onDoubt(this.doubts.all());
  }

  /** At the start, and while something is wrong: says what, also while nothing waits to be sent. */
  private async check(): Promise<void> {
    if (this.isChecked && this.failure === null) return;
    const answer = (await this.options.thread.ask({ type: "check" })) as InfluxAnswer;
    this.isChecked = true;
    if (answer.failure) throw new Failed(answer.failure);
  }

  /** One batch, or a piece of what is owed, in turn; false when there is nothing to send. */
  private async turn(): Promise<boolean> {
    const { log } = this.options;
    this.isOwedNext = !this.isOwedNext;
    if (this.isOwedNext) {
      const [range] = await log.owed(follower, 1);
      if (range) {
        await this.sendOwed(range);
        return true;
      }
    }
    const batch = await log.nextBatch(follower);
    if (!batch) return (await log.owed(follower, 1)).length > 0;
    const from = this.under?.id === batch.id ? this.under.rows : 0;
    const rows = sentRows(batch, this.options.isSent);
    const { written, failure } = await this.write(rows, from);
    // One that failed, or takes long, goes on where it was left.
    this.under = { id: batch.id, rows: written };
    if (failure) throw new Failed(failure);
    if (written < rows.series.length) return true;
    await log.sent(follower, batch.id);
    this.under = null;
    return true;
  }

  private async sendOwed(range: OwedRange): Promise<void> {
    const { log, isSent } = this.options;
    let fromMs = range.fromMs;
    await log.paying(follower);
    if (!isSent(range.series)) return log.paid(follower, range);
    for await (const rows of this.options.range(range.series, range.fromMs, range.toMs)) {
      const { written, failure } = await this.write(rowsAsBatch(rows), 0);
      // What is there is paid for, also where the rest of it failed: on a bad way nothing would ever come through whole.
      const last = rows[written - 1];
      if (last) {
        const toMs = last.tMs + 1;
        await log.paid(follower, { ...range, fromMs, toMs });
        fromMs = toMs;
      }
      if (failure) throw new Failed(failure);
      // It takes long: what else waits has its turn.
      if (this.isStopped || written < rows.length) return;
    }
    if (fromMs < range.toMs) await log.paid(follower, { ...range, fromMs });
  }

  /** Writes the rows of a batch from `from` on; tells how many are there then, and what stopped it. */
  private async write(batch: Omit<SeriesBatch, "id">, from: number): Promise<InfluxAnswer> {
    if (batch.series.length === 0) return { written: 0, aside: [], inDoubt: [], failure: null };
    const answer = await this.ask(batch, from);
    this.sent += answer.written - from;
    for (const one of answer.aside) {
      this.asides.add(one);
      this.sent -= one.points;
      this.note(one.code);
    }
    if (answer.aside.length > 0) this.options.onAside(this.asides.list());
    return answer;
  }

  private async ask(batch: Omit<SeriesBatch, "id">, from: number): Promise<InfluxAnswer> {
    // While a thread that ends says nothing, all that it was given may be on its way; so it may when the gateway is killed.
    let inDoubt: InfluxAnswer["inDoubt"] = [[from, batch.series.length]];
    this.doubts.underWay = stretchesOf(batch, from, batch.series.length);
    await this.tellDoubts();
    try {
      const answer = (await this.options.thread.ask({ type: "write", batch, from })) as InfluxAnswer;
      inDoubt = answer.inDoubt;
      return answer;
    } finally {
      const ranges = inDoubt.flatMap(([begin, end]) => stretchesOf(batch, begin, end));
      this.doubts.underWay = [];
      this.doubts.note(ranges, this.options.steadyMs());
      if (ranges.length > 0) await this.tellDoubts();
    }
  }

  private note(code: InfluxCode): void {
    this.failures.set(code, (this.failures.get(code) ?? 0) + 1);
  }

  /** Gives how long to wait. */
  private failed(thrown: unknown): number {
    // The store itself is away for a while, and says so.
    if (!(thrown instanceof Failed) && this.options.thread.trouble() === null)
      return this.options.pace.waitMs(1);
    const { code, said } =
      thrown instanceof Failed
        ? thrown.why
        : {
            code: "influx-unreachable" as const,
            said: thrown instanceof Error ? thrown.message : String(thrown),
          };
    if (this.isStopped) return 0;
    this.note(code);
    const tries = (this.failure?.tries ?? 0) + 1;
    this.failure = { code, said, tries };
    this.told.failed(this.failure);
    return this.options.pace.waitMs(tries);
  }

  private async count(isResting: boolean): Promise<void> {
    const nowMs = this.options.steadyMs();
    if (!isResting && nowMs - this.countedAtMs < countEveryMs) return;
    this.countedAtMs = nowMs;
    try {
      this.behind = await this.options.log.behind(follower);
    } catch {
      // The store says what is wrong with itself.
    }
    if (this.behind.batches === 0 && this.behind.owed === 0) this.wholeAtMs = nowMs;
  }

  state(): InfluxState {
    const { failure, sent, failures, behind } = this;
    const isWhole = behind.batches === 0 && behind.owed === 0;
    const behindMs = isWhole ? 0 : this.options.steadyMs() - this.wholeAtMs;
    return { failure, sent, failures, behind, behindMs, aside: this.asides.list() };
  }

  /**
   * Ends, once it has sent what waits, where all is well and that is done by `untilMs` of the steady time. What is left, and what
   * was under way, is sent by the next start.
   */
  async stop(untilMs = Number.NEGATIVE_INFINITY): Promise<void> {
    const leftMs = untilMs - this.options.steadyMs();
    if (leftMs > 0 && this.failure === null) await this.sendLast(leftMs);
    this.isStopped = true;
    this.leaveLog();
    this.rest.wake();
    await this.options.thread.end();
    await this.running;
  }

  private async sendLast(leftMs: number): Promise<void> {
    this.isLast = true;
    this.rest.wake();
    let timer: NodeJS.Timeout | undefined;
    const tooLong = new Promise<void>((resolve) => {
      timer = setTimeout(resolve, leftMs);
    });
    await Promise.race([this.running, tooLong]);
    clearTimeout(timer);
  }
}

class Failed extends Error {
  readonly why: NonNullable<InfluxAnswer["failure"]>;
  constructor(why: NonNullable<InfluxAnswer["failure"]>) {
    super(why.said);
    this.why = why;
  }
}
