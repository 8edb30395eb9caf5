import { Worker } from "node:worker_threads";
import type { HeldChanges } from "./checkpoint-copy.ts";
import type { CheckpointAnswer, CheckpointRequest } from "./checkpoint-worker.ts";
import { JournalError } from "./journal.ts";

/** Rows that are handed over in one turn: some 2 ms. */
const rowsAtOnce = 1000;

interface Waiting {
  readonly resolve: (safeSeq: number) => void;
  readonly reject: (error: Error) => void;
}

/** What the thread is started with, and who hears of it. */
export interface CheckpointThreadOptions {
  readonly folder: string;
  readonly copyEveryMs: number | undefined;
  readonly onThread: (worker: Worker) => void;
  /** Told in plain words what was wrong with a file. */
  readonly onFault: (text: string) => void;
}

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** The thread that writes checkpoints: it starts with the first one, and again after it ended. */
export class CheckpointThread {
  private readonly options: CheckpointThreadOptions;
  private readonly waiting = new Map<number, Waiting>();
  private worker: Worker | null = null;
  private lastId = 0;
  private why: string | null = null;
  private isClosing = false;
  private before: Promise<unknown> = Promise.resolve();

  constructor(options: CheckpointThreadOptions) {
    this.options = options;
  }

  /** Resolves with the greatest seq before which the journal may be pruned; rejects with JournalError `journal-failed`. */
  write(changes: HeldChanges, nowMs: number): Promise<number> {
    // One after the other: rows of an older one must not come last.
    const written = this.before.then(() => this.writeNext(changes, nowMs));
    this.before = written.catch(() => {});
    return written;
  }

  private async writeNext({ seq, versions, rows }: HeldChanges, nowMs: number): Promise<number> {
    this.lastId += 1;
    const id = this.lastId;
    const thread = this.thread();
    const post = (request: CheckpointRequest) => thread.postMessage(request);
    const answer = new Promise<number>((resolve, reject) => this.waiting.set(id, { resolve, reject }));
    const isEnded = answer.then(
      () => true,
      () => true,
    );
    for (let from = 0; from < rows.length; from += rowsAtOnce) {
      post({ type: "rows", id, rows: rows.slice(from, from + rowsAtOnce) });
      // A thread that ended meanwhile has rejected; the rest would go nowhere.
      if (from + rowsAtOnce < rows.length && (await Promise.race([isEnded, nextTurn()])) === true) break;
    }
    post({ type: "save", id, nowMs, changes: { seq, versions } });
    const safeSeq = await answer;
    this.why = null;
    return safeSeq;
  }

  /** Why the last thread ended; null again once a checkpoint was written. */
  trouble(): string | null {
    return this.why;
  }

  async close(): Promise<void> {
    this.isClosing = true;
    const open = this.worker;
    if (!open) return;
    await new Promise<void>((resolve) => {
      open.once("exit", () => resolve());
      open.postMessage({ type: "close" } satisfies CheckpointRequest);
    });
  }

  private thread(): Worker {
    if (this.worker) return this.worker;
    const { folder, copyEveryMs, onThread } = this.options;
    const started = new Worker(new URL("./checkpoint-worker.ts", import.meta.url), {
      workerData: { folder, copyEveryMs },
      resourceLimits: { maxYoungGenerationSizeMb: 3 },
    });
    started.on("message", (answer: CheckpointAnswer) => this.take(answer));
    started.on("error", (error) =>
      this.lost(started, error instanceof Error ? error.message : String(error)),
    );
    started.on("exit", (code) => this.lost(started, `exit code ${code}`));
    this.worker = started;
    onThread(started);
    return started;
  }

  private take({ id, error, safeSeq, fault }: CheckpointAnswer): void {
    if (fault !== null) this.options.onFault(fault);
    const asked = this.waiting.get(id);
    this.waiting.delete(id);
    if (error === null) asked?.resolve(safeSeq);
    else asked?.reject(new JournalError("journal-failed", `The checkpoint could not be written: ${error}`));
  }

  /** What waits fails by name; the next checkpoint starts a new thread. */
  private lost(from: Worker, why: string): void {
    if (this.worker !== from) return;
    this.worker = null;
    if (!this.isClosing) this.why = why;
    for (const { reject } of this.waiting.values())
      reject(new JournalError("journal-failed", `The checkpoint's thread ended: ${why}`));
    this.waiting.clear();
  }
}
