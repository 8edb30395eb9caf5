import { Worker } from "node:worker_threads";
import type { Gap } from "./gaps.ts";
import { JournalError, type JournalErrorCode } from "./journal.ts";
import { batchOf, type StoredEntry } from "./wire.ts";

/** What the thread says when it has opened the segments. */
export interface SegmentsOpened {
  readonly type: "opened";
  readonly lastSeq: number;
  readonly lastReceivedAt: number;
  readonly firstSeq: number;
  /** Files that could not be read and were put aside, by name. */
  readonly setAside: readonly string[];
  /** No number up to this one is given again. */
  readonly usedSeq: number;
  /** Each number up to this one is in a file, or was told of as lost. */
  readonly accountedSeq: number;
  /** The file that lacks what was numbered after that. */
  readonly end: Pick<Gap, "path" | "why">;
  /** Entries that an earlier start could not read are there: all is to be run again. */
  readonly isSomethingBack: boolean;
  /** What was wrong with the files, in plain words. */
  readonly faults: readonly string[];
}

interface Failed {
  readonly code: JournalErrorCode;
  readonly message: string;
}

type Answer =
  | SegmentsOpened
  | ({ readonly type: "open-failed" | "write-failed" } & Failed)
  | { readonly type: "written" | "closed" }
  | { readonly type: "pruned"; readonly firstSeq: number }
  | { readonly type: "fault"; readonly text: string }
  | { readonly type: "entries"; readonly id: number; readonly entries: readonly StoredEntry[] }
  | ({ readonly type: "read-failed"; readonly id: number } & Failed);

/** What the thread is started with. */
export interface JournalThreadOptions {
  readonly folder: string;
  readonly segmentBytes: number;
  /** Pages that a segment's file may have; 0: no bound. */
  readonly maxPages: number;
  /** Names files that are set aside, epoch ms. */
  readonly nowMs: number;
}

/** Who hears of what the thread did. */
export interface JournalThreadListener {
  written(): void;
  notWritten(message: string): void;
  pruned(firstSeq: number): void;
  /** What was found wrong with a file while reading, in plain words. */
  fault(text: string): void;
  /** The thread is gone; nothing more is written. Told once. */
  ended(why: string): void;
}

interface Reader {
  readonly resolve: (entries: readonly StoredEntry[]) => void;
  readonly reject: (error: Error) => void;
}

/** The thread that writes and reads the segments, as calls. */
export class JournalThread {
  readonly worker: Worker;
  private readonly readers = new Map<number, Reader>();
  private readId = 0;
  private listener: JournalThreadListener | null = null;
  private isEnded = false;
  private closed: (() => void) | null = null;

  private constructor(worker: Worker) {
    this.worker = worker;
  }

  /** Starts the thread and opens the segments. Rejects with a JournalError when they can't be. */
  static async start(
    options: JournalThreadOptions,
  ): Promise<{ readonly thread: JournalThread; readonly opened: SegmentsOpened }> {
    const worker = new Worker(new URL("./journal-worker.ts", import.meta.url), {
      workerData: options,
      resourceLimits: { maxYoungGenerationSizeMb: 3 },
    });
    const opened = await new Promise<SegmentsOpened>((resolve, reject) => {
      worker.once("error", reject);
      worker.once("message", (answer: Answer) => {
        worker.off("error", reject);
        if (answer.type === "opened") resolve(answer);
        else if (answer.type === "open-failed") reject(new JournalError(answer.code, answer.message));
        else reject(new JournalError("journal-failed", "The journal did not open."));
      });
    });
    return { thread: new JournalThread(worker), opened };
  }

  /** From now on the listener is told. */
  listen(listener: JournalThreadListener): void {
    this.listener = listener;
    this.worker.on("message", (answer: Answer) => this.take(answer));
    this.worker.on("error", (error: Error) => this.end(error.message));
    this.worker.on("exit", (code) => this.end(`exit code ${code}`));
  }

  /** Writes entries; `written` or `notWritten` is told. */
  write(entries: readonly StoredEntry[]): void {
    const batch = batchOf(entries);
    this.worker.postMessage({ type: "write", batch }, [
      batch.bytes.buffer,
      batch.ends.buffer,
      batch.receivedAt.buffer,
      batch.kinds.buffer,
      batch.topicOf.buffer,
    ] as ArrayBuffer[]);
  }

  /** A bounded batch of what is stored from `fromSeq` on; empty at the end. Rejects with a JournalError. */
  read(fromSeq: number): Promise<readonly StoredEntry[]> {
    this.readId += 1;
    const id = this.readId;
    return new Promise((resolve, reject) => {
      this.readers.set(id, { resolve, reject });
      this.worker.postMessage({ type: "read", id, fromSeq });
    });
  }

  /** Lets old segments go that no checkpoint needs. */
  prune(bounds: {
    readonly safeSeq: number;
    readonly nowMs: number;
    readonly keepMs: number;
    readonly keepBytes: number;
  }): void {
    this.worker.postMessage({ type: "prune", ...bounds });
  }

  /** Closes the segments; resolves when they are, or when the thread has ended. */
  close(): Promise<void> {
    if (this.isEnded) return Promise.resolve();
    return new Promise((resolve) => {
      this.closed = resolve;
      this.worker.postMessage({ type: "close" });
    });
  }

  /** Who waits for entries is refused. */
  rejectReaders(error: Error): void {
    for (const { reject } of this.readers.values()) reject(error);
    this.readers.clear();
  }

  private take(answer: Answer): void {
    switch (answer.type) {
      case "written":
        this.listener?.written();
        return;
      case "write-failed":
        this.listener?.notWritten(answer.message);
        return;
      case "pruned":
        this.listener?.pruned(answer.firstSeq);
        return;
      case "fault":
        this.listener?.fault(answer.text);
        return;
      case "entries":
        this.readerOf(answer.id)?.resolve(answer.entries);
        return;
      case "read-failed":
        this.readerOf(answer.id)?.reject(new JournalError(answer.code, answer.message));
        return;
      case "closed":
        this.closed?.();
        return;
      case "opened":
      case "open-failed":
        return;
    }
  }

  private readerOf(id: number): Reader | undefined {
    const reader = this.readers.get(id);
    this.readers.delete(id);
    return reader;
  }

  private end(why: string): void {
    if (this.isEnded) return;
    this.isEnded = true;
    this.listener?.ended(why);
    this.closed?.();
  }
}
