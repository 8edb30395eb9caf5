// The checkpoint's thread: it writes what changed, so that neither path nor journal waits.
import { parentPort, workerData } from "node:worker_threads";
import type { HeldChanges, HeldRow } from "./checkpoint-copy.ts";
import { StateFile } from "./state-file.ts";

/** Changes without their rows. */
type ChangesHead = Pick<HeldChanges, "seq" | "versions">;

/** What the main thread asks. */
export type CheckpointRequest =
  /** Rows of the save under this number, in order. */
  | { readonly type: "rows"; readonly id: number; readonly rows: readonly HeldRow[] }
  | { readonly type: "save"; readonly id: number; readonly nowMs: number; readonly changes: ChangesHead }
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

/** Rows that came before their save. */
const came = new Map<number, HeldRow[]>();

function save({ id, nowMs, changes }: Extract<CheckpointRequest, { type: "save" }>): CheckpointAnswer {
  const rows = came.get(id) ?? [];
  came.delete(id);
  try {
    const isFirst = file === null;
    file ??= new StateFile(folder, copyEveryMs);
    return {
      id,
      error: null,
      safeSeq: file.save({ ...changes, rows }, nowMs),
      fault: isFirst ? file.fault : null,
    };
  } catch (error) {
    return { id, error: error instanceof Error ? error.message : String(error), safeSeq: 0, fault: null };
  }
}

port.on("message", (request: CheckpointRequest) => {
  if (request.type === "rows") {
    const before = came.get(request.id);
    if (before === undefined) came.set(request.id, [...request.rows]);
    else for (const row of request.rows) before.push(row);
    return;
  }
  if (request.type === "save") {
    port.postMessage(save(request));
    return;
  }
  file?.close();
  port.close();
});
