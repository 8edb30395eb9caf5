import { Worker } from "node:worker_threads";
import { createCheckpointFile } from "./checkpoint-file.ts";
import type { CheckpointRequest } from "./checkpoint-worker.ts";
import { type Checkpoint, JournalError } from "./journal.ts";

/** Checkpoints of a data folder, written by a thread of their own that starts with the first one. */
export function createCheckpoints(folder: string) {
  let worker: Worker | null = null;
  let lastId = 0;
  const waiting = new Map<number, { resolve: () => void; reject: (error: Error) => void }>();

  function failAll(error: Error): void {
    for (const { reject } of waiting.values()) reject(new JournalError("journal-failed", error.message));
    waiting.clear();
    worker = null;
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
    started.on("error", failAll);
    worker = started;
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
      return true;
    },
    load: () => createCheckpointFile(folder).load(),
    async close(): Promise<void> {
      const open = worker;
      if (!open) return;
      await new Promise<void>((resolve) => {
        open.once("exit", () => resolve());
        open.postMessage({ type: "close" } satisfies CheckpointRequest);
      });
    },
  };
}
