// The checkpoint's thread: it writes what changed, so that neither path nor journal waits.
import { parentPort, workerData } from "node:worker_threads";
import { type HeldChanges, StateFile } from "./state-file.ts";

/** What the main thread asks. */
export type CheckpointRequest =
  | { readonly type: "save"; readonly id: number; readonly nowMs: number; readonly changes: HeldChanges[] }
  | { readonly type: "close" };

/** What it answers to `save`: null, or why it could not; and the seq of the older generation. */
export interface CheckpointAnswer {
  readonly id: number;
  readonly error: string | null;
  readonly safeSeq: number;
  /** What was wrong with the copy, once. */
  readonly fault: string | null;
}

const port = parentPort;
if (!port) throw new Error("checkpoint-worker.ts runs as a worker only.");
const { folder, copyEveryMs } = workerData as { readonly folder: string; readonly copyEveryMs?: number };
let file: StateFile | null = null;

function save({ id, nowMs, changes }: Extract<CheckpointRequest, { type: "save" }>): CheckpointAnswer {
  try {
    const isFirst = file === null;
    file ??= new StateFile(folder, copyEveryMs);
    return { id, error: null, safeSeq: file.save(changes, nowMs), fault: isFirst ? file.fault : null };
  } catch (error) {
    return { id, error: error instanceof Error ? error.message : String(error), safeSeq: 0, fault: null };
  }
}

port.on("message", (request: CheckpointRequest) => {
  if (request.type === "save") {
    port.postMessage(save(request));
    return;
  }
  file?.close();
  port.close();
});
