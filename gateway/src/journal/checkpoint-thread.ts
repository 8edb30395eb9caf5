import { Worker } from "node:worker_threads";
import type { NotTakenIn, TakeIn } from "../database/index.ts";
import type { HeldChanges } from "./checkpoint-copy.ts";
import type { CheckpointAnswer, CheckpointRequest, CheckpointServiceData } from "./checkpoint-service.ts";
import { JournalError } from "./journal.ts";

/** Rows that are handed over in one turn: some 2 ms. */
const rowsAtOnce = 1000;

interface Waiting {
  readonly resolve: (safeSeq: number) => void;
  readonly reject: (error: Error) => void;
}

/** What the thread is started with, and who hears of it. */
export interface CheckpointThreadOptions extends CheckpointServiceData {
  /** A thread that takes it in; without one it has its own. */
  readonly takeIn: TakeIn | undefined;
  readonly onThread: (worker: Worker) => void;
  /** Told in plain words what was wrong with a file. */
  readonly onFault: (text: string) => void;
}

/** The line to whoever writes. */
interface Line {
  postMessage(request: CheckpointRequest): void;
}

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Who writes checkpoints, on a thread: it starts with the first one, and again after it ended. */
export class CheckpointThread {
  private readonly options: CheckpointThreadOptions;
  private readonly waiting = new Map<number, Waiting>();
  private line: Line | null = null;
  private lastId = 0;
  private why: string | null = null;
  private isClosing = false;
  private readonly whenEnded: (() => void)[] = [];

  constructor(options: CheckpointThreadOptions) {
    this.options = options;
  }

  /** One at a time. Resolves with the greatest seq before which the journal may be pruned; rejects with JournalError `journal-failed`. */
  async write({ seq, versions, rows }: HeldChanges, nowMs: number): Promise<number> {
    this.lastId += 1;
    const id = this.lastId;
    this.line ??= this.options.takeIn ? this.takenIn(this.options.takeIn) : this.ownThread();
    const line = this.line;
    const post = (request: CheckpointRequest) => line.postMessage(request);
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

  /** Why the last one ended by itself; null again once a checkpoint was written. One that is taken in ends with its thread, whose owner tells of that. */
  trouble(): string | null {
    return this.why;
  }

  async close(): Promise<void> {
    this.isClosing = true;
    const { line } = this;
    if (!line) return;
    await new Promise<void>((resolve) => {
      this.whenEnded.push(resolve);
      line.postMessage({ type: "close" } satisfies CheckpointRequest);
    });
  }

  private takenIn(takeIn: TakeIn): Line {
    const { folder, copyEveryMs } = this.options;
    const service = new URL("./checkpoint-service.ts", import.meta.url);
    const port = takeIn(service, { folder, copyEveryMs } satisfies CheckpointServiceData);
    if (!port) throw new JournalError("journal-failed", "The thread that writes checkpoints is away.");
    port.on("message", (answer: CheckpointAnswer | NotTakenIn) => {
      if ("notTakenIn" in answer) this.why = answer.notTakenIn;
      else this.take(answer);
    });
    port.on("close", () => this.lost(port, this.why ?? "so did the thread that it was on"));
    return port;
  }

  private ownThread(): Line {
    const { folder, copyEveryMs, onThread } = this.options;
    const started = new Worker(new URL("./checkpoint-worker.ts", import.meta.url), {
      workerData: { folder, copyEveryMs } satisfies CheckpointServiceData,
      resourceLimits: { maxYoungGenerationSizeMb: 3 },
    });
    const ended = (why: string): void => {
      if (this.line === started && !this.isClosing) this.why = why;
      this.lost(started, why);
    };
    started.on("message", (answer: CheckpointAnswer) => this.take(answer));
    started.on("error", (error) => ended(error instanceof Error ? error.message : String(error)));
    started.on("exit", (code) => ended(`exit code ${code}`));
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

  /** What waits fails by name; the next checkpoint starts it again. */
  private lost(from: Line, why: string): void {
    if (this.line !== from) return;
    this.line = null;
    for (const { reject } of this.waiting.values())
      reject(new JournalError("journal-failed", `The checkpoint's thread ended: ${why}`));
    this.waiting.clear();
    for (const ended of this.whenEnded) ended();
  }
}
