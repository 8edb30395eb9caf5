import { Worker } from "node:worker_threads";
import type { CheckpointAnswer, CheckpointRequest } from "./checkpoint-worker.ts";
import { JournalError } from "./journal.ts";
import type { HeldChanges } from "./state-file.ts";

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

/** The thread that writes checkpoints: it starts with the first one, and again after it ended. */
export class CheckpointThread {
  private readonly options: CheckpointThreadOptions;
  private readonly waiting = new Map<number, Waiting>();
  private worker: Worker | null = null;
  private lastId = 0;
  private why: string | null = null;
  private isClosing = false;

  constructor(options: CheckpointThreadOptions) {
    this.options = options;
  }

  /** Resolves with the greatest seq before which the journal may be pruned; rejects with JournalError `journal-failed`. */
  async write(changes: HeldChanges[], nowMs: number): Promise<number> {
    this.lastId += 1;
    const id = this.lastId;
    const safeSeq = await new Promise<number>((resolve, reject) => {
      this.waiting.set(id, { resolve, reject });
      this.thread().postMessage({ type: "save", id, nowMs, changes } satisfies CheckpointRequest);
    });
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
