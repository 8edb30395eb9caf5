// The checkpoint's thread: it turns the state into bytes and writes them, so that neither path nor journal waits.
import { parentPort, workerData } from "node:worker_threads";
import { createCheckpointFile } from "./checkpoint-file.ts";
import type { Checkpoint } from "./journal.ts";

/** What the main thread asks. A state that is held is written by `save`, or forgotten by `drop`. */
export type CheckpointRequest =
  | { readonly type: "hold"; readonly id: number; readonly checkpoint: Checkpoint }
  | { readonly type: "save" | "drop"; readonly id: number }
  | { readonly type: "close" };

const port = parentPort;
if (!port) throw new Error("checkpoint-worker.ts runs as a worker only.");
const file = createCheckpointFile((workerData as { readonly folder: string }).folder);
const held = new Map<number, Checkpoint>();
let saving: Promise<void> = Promise.resolve();

async function save(id: number, checkpoint: Checkpoint): Promise<void> {
  try {
    await file.save(checkpoint);
    port?.postMessage({ id, error: null });
  } catch (error) {
    port?.postMessage({ id, error: error instanceof Error ? error.message : String(error) });
  }
}

port.on("message", (request: CheckpointRequest) => {
  if (request.type === "close") {
    void saving.then(() => port.close());
    return;
  }
  if (request.type === "hold") {
    held.set(request.id, request.checkpoint);
    return;
  }
  const checkpoint = held.get(request.id);
  held.delete(request.id);
  if (request.type !== "save") return;
  if (checkpoint) saving = saving.then(() => save(request.id, checkpoint));
  // It was given to a thread that has ended since.
  else port.postMessage({ id: request.id, error: "the state to be written is gone" });
});
