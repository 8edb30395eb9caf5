import { randomUUID } from "node:crypto";
import type { Act } from "../acts/index.ts";
import type { Journal } from "../journal/index.ts";
import type { Line } from "../line/index.ts";
import type { Logbook, WaitingDerivation } from "../logbook/index.ts";
import { channelOfReadingSeries } from "../measurements/index.ts";
import type { SeriesStaging, SeriesStore } from "../series/index.ts";
import type { Calendar } from "./calendar.ts";
import { type Derived, type DerivedSeries, derive, finishDerivations } from "./derive.ts";
import { good, type Health } from "./parts.ts";
import type { PastRun } from "./past-pieces.ts";

/** One that failed is tried again after so long. */
const againMs = 60_000;

/** What the derivations work with. */
export interface DerivationNeeds {
  readonly journal: Pick<Journal, "append" | "lastSeq">;
  readonly series: SeriesStore & { readonly staging: SeriesStaging };
  readonly logbook: Logbook;
  /** Calendar time, epoch ms. */
  readonly nowMs: () => number;
  readonly calendar: Calendar;
  readonly line: () => Line | null;
  /** Runs the past, over what is stored. */
  readonly run: PastRun;
  /** Resolves when everything that came in is stored. */
  readonly flush: () => Promise<void>;
  readonly log: (message: string) => void;
}

class GivenUp extends Error {}

interface Progress {
  readonly fromMs: number;
  readonly toMs: number;
  atMs: number;
}

/**
 * Derivations of the past as jobs: asked for in the logbook, so that a crash loses none; run one after the other, those
 * that wait together as one; in force with their journal entry; given up at a stop and resumed after the next start.
 */
export class DerivationJobs {
  private readonly needs: DerivationNeeds;
  /** Asked for while the disk took nothing. */
  private unwritten: WaitingDerivation[] = [];
  private running: Promise<void> | null = null;
  private isStarted = false;
  private readonly stopping = new AbortController();
  private isAsked = false;
  private again: NodeJS.Timeout | undefined;
  private failure: string | null = null;
  private progress: Progress | null = null;

  constructor(needs: DerivationNeeds) {
    this.needs = needs;
  }

  /** An act was taken: a calibration for the past changes what was measured since. Times are the calendar's. */
  afterAct(act: Act, atMs: number, validFromMs: number | null): void {
    if (act.type === "calibration" && validFromMs !== null && validFromMs < atMs)
      this.ask({ job: `calibration ${act.id}`, fromMs: validFromMs });
  }

  /** A channel that has just got its place: all that it ever said means something now. */
  async afterAssigned(channel: string): Promise<void> {
    const { series, nowMs } = this.needs;
    const names = (await series.names()).filter((name) => channelOfReadingSeries(name)?.channel === channel);
    for (const name of names)
      for await (const [first] of series.range(name, 0, nowMs())) {
        if (first) this.ask({ job: `channel ${channel} ${randomUUID()}`, fromMs: first.tMs });
        break;
      }
  }

  /** All from a time on, calendar, because somebody asks for it. */
  askSince(fromMs: number, by: string): void {
    this.ask({ job: `asked by ${by} ${randomUUID()}`, fromMs });
  }

  /** How far it is; `waiting` counts what was asked for and is not in force. */
  state() {
    const waiting = this.needs.logbook.derivations.waiting().length + this.unwritten.length;
    return { running: this.progressNow(), waiting, failure: this.failure };
  }

  private progressNow() {
    if (!this.progress) return null;
    const { fromMs, toMs, atMs } = this.progress;
    // All of it is there only once it is in force.
    const percent = Math.min(99, Math.floor((100 * (atMs - fromMs)) / Math.max(1, toMs - fromMs)));
    return { fromMs, toMs, percent };
  }

  /** From now on jobs run, those from before among them. */
  start(): void {
    this.isStarted = true;
    this.begin();
  }

  /** Gives up what runs; resolves when it has ended. */
  async stop(): Promise<void> {
    this.stopping.abort();
    clearTimeout(this.again);
    await this.running;
  }

  private get isStopped(): boolean {
    return this.stopping.signal.aborted;
  }

  /** How far it is, or why the last one failed. */
  health(): Health {
    if (this.failure !== null) return { state: "degraded", text: this.failure };
    const running = this.progressNow();
    if (!running) return good;
    return {
      state: "good",
      text: `derives since ${new Date(running.fromMs).toISOString()}, ${running.percent} %`,
    };
  }

  private ask(derivation: WaitingDerivation): void {
    this.unwritten.push(derivation);
    this.isAsked = true;
    try {
      this.writeUnwritten();
    } catch (error) {
      this.failed(error);
    }
    this.begin();
  }

  private begin(): void {
    if (!this.isStarted || this.isStopped || this.running) return;
    clearTimeout(this.again);
    this.again = undefined;
    this.isAsked = false;
    this.running = this.runAll()
      .catch((error: unknown) => {
        if (this.isStopped) this.needs.log("derive: given up by the stop; it goes on after the next start");
        else this.failed(error);
      })
      .finally(() => {
        this.running = null;
        this.progress = null;
        if (this.isAsked) this.begin();
      });
  }

  private failed(error: unknown): void {
    this.failure = error instanceof Error ? error.message : String(error);
    this.needs.log(`derive: ${this.failure} It is tried again in ${againMs / 1000} s.`);
    this.again ??= setTimeout(() => this.begin(), againMs);
  }

  private async runAll(): Promise<void> {
    const { derivations } = this.needs.logbook;
    await finishDerivations(this.needs.series.staging, derivations);
    while (!this.isStopped) {
      this.writeUnwritten();
      const jobs = derivations.waiting();
      if (jobs.length === 0 || !this.needs.line()) return;
      await this.runTogether(jobs);
      this.failure = null;
    }
  }

  private async runTogether(jobs: readonly WaitingDerivation[]): Promise<void> {
    const { journal, logbook, calendar, run, flush, nowMs, log } = this.needs;
    await flush();
    const fromMs = Math.min(...jobs.map((job) => job.fromMs));
    const [toMs, asOfSeq] = [nowMs(), journal.lastSeq];
    this.progress = { fromMs, toMs, atMs: fromMs };
    const derived = await derive(
      {
        series: this.watchedSeries(),
        logbook,
        nowMs: toMs,
        calendar,
        run,
        jobs: jobs.map(({ job }) => job),
        signal: this.stopping.signal,
        isCancelled: () => this.isStopped,
        announce: ({ records, gone, holds }) =>
          journal.append({
            kind: "derived",
            job: jobs[0]?.job ?? "",
            fromMs,
            toMs,
            asOfSeq,
            records,
            gone,
            holds,
          }),
      },
      { fromMs, toMs },
    );
    if (!derived) throw new GivenUp();
    log(toldOf(fromMs, derived));
  }

  private writeUnwritten(): void {
    while (this.unwritten[0]) {
      this.needs.logbook.derivations.ask(this.unwritten[0]);
      this.unwritten = this.unwritten.slice(1);
    }
  }

  /** The store as a job sees it: it tells how far the job is, and ends it at a stop. */
  private watchedSeries(): DerivedSeries {
    const { series } = this.needs;
    const { staging } = series;
    const goOn = () => {
      if (this.isStopped) throw new GivenUp();
    };
    return {
      names: () => series.names(),
      range: (name, fromMs, toMs) => series.range(name, fromMs, toMs),
      staging: {
        stage: (job, pieces) => {
          goOn();
          const lastMs = pieces.at(-1)?.tMs.at(-1);
          if (this.progress && lastMs !== undefined)
            this.progress.atMs = Math.max(this.progress.atMs, lastMs);
          return staging.stage(job, pieces);
        },
        sync: () => staging.sync(),
        publish: (job) => staging.publish(job),
        discard: (job) => staging.discard(job),
        staged: () => staging.staged(),
      },
    };
  }
}

function toldOf(fromMs: number, { measurements, replaced, fills }: Derived): string {
  const changed = fills.revised + fills.added + fills.withdrawn;
  return `derived since ${new Date(fromMs).toISOString()}: ${measurements} measurements, ${replaced} other than before; ${changed} fills changed`;
}
