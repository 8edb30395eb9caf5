import { Worker } from "node:worker_threads";
import type { JournalEntry } from "../readings/index.ts";
import { createCheckpoints } from "./checkpoints.ts";
import { lockFolder } from "./folder-lock.ts";
import { type Journal, JournalError, type JournalErrorCode, type NewEntry } from "./journal.ts";
import { batchOf, entryOf, type StoredEntry, storedParts } from "./wire.ts";

/** What a journal needs. */
export interface JournalOptions {
  readonly folder: string;
  /** Engine time, about epoch ms: it only goes on. */
  readonly now: () => number;
  /** A segment is closed at this size; 64 MiB. */
  readonly segmentBytes?: number;
  /** Bounds of what may wait for the disk; above them `append` rejects with `journal-full`. */
  readonly mostWaitingEntries?: number;
  readonly mostWaitingBytes?: number;
  /** What is older goes once a checkpoint is past it; 60 days. */
  readonly keepMs?: number;
  /** Above this the oldest goes once a checkpoint is past it; 2 GiB. */
  readonly keepBytes?: number;
  /** A write that failed is tried again after so long; 1 s. */
  readonly retryMs?: number;
  /** The state is copied whole so often, as the generation to go back to; 1 h. */
  readonly copyEveryMs?: number;
  /** Told when writing begins to fail, and (null) when it goes again. */
  readonly onTrouble?: (trouble: string | null) => void;
  /** Told once when the journal's thread has ended by itself: nothing more can be stored by this process. */
  readonly onEnded?: (why: string) => void;
  /** Told of each thread that starts. */
  readonly onThread?: (worker: Worker) => void;
  /** Pages that a segment's file may have: stands in for a full disk in tests. */
  readonly mostPages?: number;
}

type Answer =
  | {
      readonly type: "opened";
      readonly lastSeq: number;
      readonly lastReceivedAt: number;
      readonly firstSeq: number;
      readonly setAside: readonly string[];
    }
  | {
      readonly type: "open-failed" | "write-failed";
      readonly code: JournalErrorCode;
      readonly message: string;
    }
  | { readonly type: "written" | "closed" }
  | { readonly type: "pruned"; readonly firstSeq: number }
  | { readonly type: "entries"; readonly id: number; readonly entries: readonly StoredEntry[] }
  | {
      readonly type: "read-failed";
      readonly id: number;
      readonly code: JournalErrorCode;
      readonly message: string;
    };

interface Waiting {
  readonly stored: StoredEntry;
  readonly entry: NewEntry;
  readonly resolve: (seq: number) => void;
  readonly reject: (error: Error) => void;
}

const mostOfABatch = 5000;

/** Opens (or begins) the journal of a data folder. Rejects with a JournalError when it is in use, newer, or unreadable. */
export async function openJournal(
  options: JournalOptions,
): Promise<Journal & { readonly setAside: readonly string[] }> {
  const {
    folder,
    now,
    segmentBytes = 64 * 1024 * 1024,
    mostWaitingEntries = 50_000,
    mostWaitingBytes = 64 * 1024 * 1024,
    keepMs = 60 * 86_400_000,
    keepBytes = 2 * 1024 ** 3,
    retryMs = 1000,
    onTrouble = () => {},
    onEnded = () => {},
    onThread = () => {},
    mostPages = 0,
  } = options;
  const lock = lockFolder(folder);
  const worker = new Worker(new URL("./journal-worker.ts", import.meta.url), {
    workerData: { folder, segmentBytes, mostPages },
    resourceLimits: { maxYoungGenerationSizeMb: 8 },
  });
  const opened = await new Promise<Extract<Answer, { type: "opened" }>>((resolve, reject) => {
    worker.once("error", reject);
    worker.once("message", (answer: Answer) => {
      worker.off("error", reject);
      if (answer.type === "opened") resolve(answer);
      else
        reject(
          new JournalError(
            "code" in answer ? answer.code : "journal-failed",
            "message" in answer ? answer.message : "The journal did not open.",
          ),
        );
    });
  }).catch((error: unknown) => {
    lock.release();
    throw error;
  });

  const checkpoints = createCheckpoints(folder, onThread, options.copyEveryMs);
  const listeners: ((entries: readonly JournalEntry[]) => void)[] = [];
  const readers = new Map<
    number,
    { resolve: (entries: readonly StoredEntry[]) => void; reject: (error: Error) => void }
  >();
  let queue: Waiting[] = [];
  let queuedBytes = 0;
  let flying: Waiting[] = [];
  let flyingBytes = 0;
  // A damaged file can end before the checkpoint: a number that stages have seen is never given again.
  const seenSeq = Math.max(opened.lastSeq, (await checkpoints.load())?.seq ?? 0);
  let nextSeq = seenSeq + 1;
  let lastSeq = seenSeq;
  let lastReceivedAt = opened.lastReceivedAt;
  let readId = 0;
  let firstSeq = opened.firstSeq;
  let failed: JournalError | null = null;
  let trouble: string | null = null;
  let retry: NodeJS.Timeout | null = null;
  let checkpointBytes = 0;
  let closing: { resolve: () => void } | null = null;
  let closed = false;

  function commitNext(): void {
    if (flying.length > 0 || queue.length === 0 || failed) return;
    flying = queue.length > mostOfABatch ? queue.splice(0, mostOfABatch) : queue;
    if (flying === queue) queue = [];
    flyingBytes = flying.reduce((sum, { stored }) => sum + stored.payload.length, 0);
    queuedBytes -= flyingBytes;
    writeFlying();
  }

  function writeFlying(): void {
    retry = null;
    const batch = batchOf(flying.map(({ stored }) => stored));
    worker.postMessage({ type: "write", batch }, [
      batch.bytes.buffer,
      batch.ends.buffer,
      batch.receivedAt.buffer,
      batch.kinds.buffer,
    ] as ArrayBuffer[]);
  }

  /** The disk did not take it. Nobody is answered, the batch stays, and is tried again until it goes or the gateway stops. */
  function notWritten(message: string): void {
    if (trouble === null) onTrouble(message);
    trouble = message;
    if (!closing) {
      retry = setTimeout(writeFlying, retryMs);
      return;
    }
    fail(new JournalError("journal-failed", `The journal could not be written: ${message}`));
  }

  function written(): void {
    if (trouble !== null) onTrouble(null);
    trouble = null;
    const done = flying;
    flying = [];
    flyingBytes = 0;
    lastSeq = done.at(-1)?.stored.seq ?? lastSeq;
    // The next commit is under way before anybody is told of this one.
    commitNext();
    const entries = done.map(
      ({ stored, entry }): JournalEntry => ({ seq: stored.seq, receivedAt: stored.receivedAt, ...entry }),
    );
    // Answered first: what is on disk need not wait until it is judged.
    for (const { stored, resolve } of done) resolve(stored.seq);
    for (const listener of listeners) listener(entries);
    finishClosing();
  }

  function fail(error: JournalError): void {
    failed = error;
    const lost = [...flying, ...queue];
    flying = [];
    queue = [];
    queuedBytes = 0;
    flyingBytes = 0;
    for (const { reject } of lost) reject(error);
    for (const { reject } of readers.values()) reject(error);
    readers.clear();
    finishClosing();
  }

  function finishClosing(): void {
    if (closing && failed) closing.resolve();
    else if (closing && queue.length === 0 && flying.length === 0) worker.postMessage({ type: "close" });
  }

  worker.on("message", (answer: Answer) => {
    switch (answer.type) {
      case "written":
        written();
        return;
      case "write-failed":
        notWritten(answer.message);
        return;
      case "pruned":
        firstSeq = answer.firstSeq;
        return;
      case "entries":
        readers.get(answer.id)?.resolve(answer.entries);
        readers.delete(answer.id);
        return;
      case "read-failed":
        readers.get(answer.id)?.reject(new JournalError(answer.code, answer.message));
        readers.delete(answer.id);
        return;
      case "closed":
        closing?.resolve();
        return;
      case "opened":
      case "open-failed":
        return;
    }
  });
  onThread(worker);
  const ended = (why: string) => {
    if (failed) return;
    fail(new JournalError("journal-failed", `The journal's thread ended: ${why}`));
    if (!closed) onEnded(why);
  };
  worker.on("error", (error: Error) => ended(error.message));
  worker.on("exit", (code) => ended(`exit code ${code}`));

  return {
    append(entry, receivedAt) {
      if (closed) return Promise.reject(new JournalError("journal-closed", "The gateway is stopping."));
      if (failed) return Promise.reject(failed);
      const parts = storedParts(entry);
      if (
        queue.length + flying.length >= mostWaitingEntries ||
        queuedBytes + flyingBytes + parts.payload.length > mostWaitingBytes
      ) {
        return Promise.reject(new JournalError("journal-full", "Too much waits for the disk: send slower."));
      }
      lastReceivedAt = Math.max(lastReceivedAt, Math.round(receivedAt ?? now()));
      const stored: StoredEntry = { seq: nextSeq, receivedAt: lastReceivedAt, ...parts };
      nextSeq += 1;
      queuedBytes += parts.payload.length;
      return new Promise((resolve, reject) => {
        queue.push({ stored, entry, resolve, reject });
        // After the current burst of packets: they then share one commit.
        if (queue.length === 1 && flying.length === 0) setImmediate(commitNext);
      });
    },
    get waiting() {
      return { entries: queue.length + flying.length, bytes: queuedBytes + flyingBytes };
    },
    onCommitted(listener) {
      listeners.push(listener);
    },
    async *read(fromSeq) {
      for (let from = fromSeq; ; ) {
        readId += 1;
        const id = readId;
        const rows = await new Promise<readonly StoredEntry[]>((resolve, reject) => {
          if (failed) {
            reject(failed);
            return;
          }
          readers.set(id, { resolve, reject });
          worker.postMessage({ type: "read", id, fromSeq: from });
        });
        if (rows.length === 0) return;
        yield rows.map(entryOf);
        from = (rows.at(-1) as StoredEntry).seq + 1;
      }
    },
    get lastSeq() {
      return lastSeq;
    },
    get lastReceivedAt() {
      return lastReceivedAt;
    },
    instance: lock.instance,
    setAside: opened.setAside,
    get trouble() {
      return trouble;
    },
    get ended() {
      return failed?.message ?? null;
    },
    get checkpointTrouble() {
      return checkpoints.trouble();
    },
    get firstSeq() {
      return firstSeq;
    },
    async saveCheckpoint(changes, whenStored = Promise.resolve(true)) {
      const saved = await checkpoints.save(changes, whenStored, now());
      if (!saved) return false;
      checkpointBytes = saved.bytes;
      // Of two generations the older one must be able to go on as well.
      if (saved.safeSeq > 0 && !closed)
        worker.postMessage({ type: "prune", safeSeq: saved.safeSeq, nowMs: now(), keepMs, keepBytes });
      return true;
    },
    get checkpointBytes() {
      return checkpointBytes;
    },
    forgetCheckpoint: () => checkpoints.forget(),
    loadCheckpoint: () => checkpoints.load(),
    async close() {
      if (closed) return;
      closed = true;
      if (!failed) {
        await new Promise<void>((resolve) => {
          closing = { resolve };
          if (retry) {
            clearTimeout(retry);
            writeFlying();
          }
          finishClosing();
        });
      }
      await checkpoints.close();
      await worker.terminate();
      lock.release();
    },
  };
}
