import { randomUUID } from "node:crypto";
import type { Act } from "../acts/index.ts";
import type { Journal } from "../journal/index.ts";
import type { Line } from "../line/index.ts";
import type { Logbook, WaitingDerivation } from "../logbook/index.ts";
import { channelOfReadingSeries } from "../measurements/index.ts";
import type { SeriesStore } from "../series/index.ts";
import type { Calendar } from "./calendar.ts";
import { type Derived, derive } from "./derive.ts";
import { good, type Health } from "./parts.ts";

/** One that failed is tried again after so long. */
const againMs = 60_000;

/** What the derivations work with. */
export interface DerivationNeeds {
  readonly journal: Pick<Journal, "append" | "lastSeq">;
  readonly series: SeriesStore;
  readonly logbook: Logbook;
  /** Calendar time, epoch ms. */
  readonly nowMs: () => number;
  readonly calendar: Calendar;
  readonly line: () => Line | null;
  /** Resolves when everything that came in is stored. */
  readonly flush: () => Promise<void>;
  readonly log: (message: string) => void;
}

class GivenUp extends Error {}

/**
 * Derivations of the past as jobs: asked for in the logbook, so that a crash loses none; run one after the other, those
 * that wait together as one; in force with their journal entry; given up at a stop and resumed after the next start.
 */
export function createDerivationJobs(needs: DerivationNeeds) {
  const { journal, series, logbook, nowMs, calendar, line, flush, log } = needs;
  const { derivations } = logbook;
  /** Asked for while the disk took nothing. */
  let unwritten: WaitingDerivation[] = [];
  let running: Promise<void> | null = null;
  let isStarted = false;
  let isStopped = false;
  let isAsked = false;
  let again: NodeJS.Timeout | undefined;
  let failure: string | null = null;
  let progress: { readonly fromMs: number; readonly toMs: number; atMs: number } | null = null;

  /** The store as a job sees it: it tells how far the job is, and ends it at a stop. */
  function watched(): Pick<SeriesStore, "range" | "names" | "write"> {
    return {
      names: () => series.names(),
      async *range(name, fromMs, toMs) {
        for await (const rows of series.range(name, fromMs, toMs)) {
          if (isStopped) throw new GivenUp();
          yield rows;
        }
      },
      async write(rows) {
        if (isStopped) throw new GivenUp();
        const last = rows.at(-1);
        if (progress && last) progress.atMs = Math.max(progress.atMs, last.tMs);
        return series.write(rows);
      },
    };
  }

  async function runOne(jobs: readonly WaitingDerivation[]): Promise<void> {
    const inForce = line();
    if (!inForce) return;
    await flush();
    const fromMs = Math.min(...jobs.map((job) => job.fromMs));
    const [toMs, asOfSeq] = [nowMs(), journal.lastSeq];
    progress = { fromMs, toMs, atMs: fromMs };
    const derived = await derive(
      { series: watched(), logbook, nowMs: toMs, calendar, isCancelled: () => isStopped },
      fromMs,
      toMs,
    );
    if (!derived) throw new GivenUp();
    const { records, gone } = derived;
    const [first] = jobs as [WaitingDerivation];
    await journal.append({ kind: "derived", job: first.job, fromMs, toMs, asOfSeq, records, gone });
    derivations.done(jobs.map(({ job }) => job));
    log(toldOf(fromMs, derived));
  }

  function writeUnwritten(): void {
    while (unwritten[0]) {
      derivations.ask(unwritten[0]);
      unwritten = unwritten.slice(1);
    }
  }

  async function runAll(): Promise<void> {
    while (!isStopped) {
      writeUnwritten();
      const jobs = derivations.waiting();
      if (jobs.length === 0 || !line()) return;
      await runOne(jobs);
      failure = null;
    }
  }

  function begin(): void {
    if (!isStarted || isStopped || running) return;
    clearTimeout(again);
    again = undefined;
    isAsked = false;
    running = runAll()
      .catch((error: unknown) => {
        if (isStopped) {
          log("derive: given up by the stop; it goes on after the next start");
          return;
        }
        failure = error instanceof Error ? error.message : String(error);
        log(`derive: ${failure} It is tried again in ${againMs / 1000} s.`);
        again = setTimeout(begin, againMs);
      })
      .finally(() => {
        running = null;
        progress = null;
        if (isAsked) begin();
      });
  }

  function ask(derivation: WaitingDerivation): void {
    unwritten.push(derivation);
    isAsked = true;
    try {
      writeUnwritten();
    } catch (error) {
      failure = error instanceof Error ? error.message : String(error);
      again ??= setTimeout(begin, againMs);
    }
    begin();
  }

  return {
    /** An act was taken: a calibration for the past changes what was measured since. Times are the calendar's. */
    afterAct(act: Act, atMs: number, validFromMs: number | null): void {
      if (act.type === "calibration" && validFromMs !== null && validFromMs < atMs)
        ask({ job: `calibration ${act.id}`, fromMs: validFromMs });
    },
    /** A channel that has just got its place: all that it ever said means something now. */
    async afterAssigned(channel: string): Promise<void> {
      const names = (await series.names()).filter(
        (name) => channelOfReadingSeries(name)?.channel === channel,
      );
      for (const name of names)
        for await (const [first] of series.range(name, 0, nowMs())) {
          if (first) ask({ job: `channel ${channel} ${randomUUID()}`, fromMs: first.tMs });
          break;
        }
    },
    /** From now on jobs run, those from before among them. */
    start(): void {
      isStarted = true;
      begin();
    },
    /** Gives up what runs; resolves when it has ended. */
    async stop(): Promise<void> {
      isStopped = true;
      clearTimeout(again);
      await running;
    },
    health(): Health {
      if (failure !== null) return { state: "degraded", text: failure };
      if (!progress) return good;
      const { fromMs, toMs, atMs } = progress;
      const percent = Math.floor((100 * (atMs - fromMs)) / Math.max(1, toMs - fromMs));
      return { state: "good", text: `derives since ${new Date(fromMs).toISOString()}, ${percent} %` };
    },
  };
}

export type DerivationJobs = ReturnType<typeof createDerivationJobs>;

function toldOf(fromMs: number, { measurements, replaced, fills }: Derived): string {
  const changed = fills.revised + fills.added + fills.withdrawn;
  return `derived since ${new Date(fromMs).toISOString()}: ${measurements} measurements, ${replaced} other than before; ${changed} fills changed`;
}
