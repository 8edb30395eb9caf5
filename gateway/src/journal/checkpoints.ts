import { Worker } from "node:worker_threads";
import { createCheckpointFile } from "./checkpoint-file.ts";
import type { CheckpointRequest } from "./checkpoint-worker.ts";
import { type Checkpoint, JournalError } from "./journal.ts";

/** Checkpoints of a data folder, written by a thread of their own that starts with the first one. */
export function createCheckpoints(folder: string, onThread: (worker: Worker) => void = () => {}) {
  let worker: Worker | null = null;
  let lastId = 0;
  let trouble: string | null = null;
  let isClosing = false;
  const waiting = new Map<number, { resolve: () => void; reject: (error: Error) => void }>();

  /** What waits fails by name; the next checkpoint starts a new thread. */
  function lost(from: Worker, why: string): void {
    if (worker !== from) return;
    worker = null;
    if (!isClosing) trouble = why;
    for (const { reject } of waiting.values())
      reject(new JournalError("journal-failed", `The checkpoint's thread ended: ${why}`));
    waiting.clear();
  }

  function thread(): Worker {
    if (worker) return worker;
    const started = new Worker(new URL("./checkpoint-worker.ts", import.meta.url), {
      workerData: { folder },
    });
    started.on("message", ({ id, error }: { readonly id: number; readonly error: string | null }) => {
      const asked = waiting.get(id);
      waiting.delete(id);
      if (error === null) asked?.resolve();
      else asked?.reject(new JournalError("journal-failed", `The checkpoint could not be written: ${error}`));
    });
    started.on("error", (error) => lost(started, error instanceof Error ? error.message : String(error)));
    started.on("exit", (code) => lost(started, `exit code ${code}`));
    worker = started;
    onThread(started);
    return started;
  }

  const ask = (request: CheckpointRequest) => thread().postMessage(request);

  return {
    /** Copies the states at once; writes them when `whenStored` says that all before them is stored. */
    async save(checkpoint: Checkpoint, whenStored: Promise<boolean>): Promise<boolean> {
      lastId += 1;
      const id = lastId;
      ask({ type: "hold", id, checkpoint });
      const stored = await whenStored.catch(() => false);
      if (!stored) {
        ask({ type: "drop", id });
        return false;
      }
      await new Promise<void>((resolve, reject) => {
        waiting.set(id, { resolve, reject });
        ask({ type: "save", id });
      });
      trouble = null;
      return true;
    },
    /** Why the last thread ended; null again once a checkpoint was written. */
    trouble: (): string | null => trouble,
    load: () => createCheckpointFile(folder).load(),
    async close(): Promise<void> {
      isClosing = true;
      const open = worker;
      if (!open) return;
      await new Promise<void>((resolve) => {
        open.once("exit", () => resolve());
        open.postMessage({ type: "close" } satisfies CheckpointRequest);
      });
    },
  };
}
