// Writes checkpoints: what changed, a transaction each, so that neither path nor journal waits.
import type { MessagePort } from "node:worker_threads";
import type { Guest, ServeGuest } from "../database/index.ts";
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

/** What it is started with. */
export interface CheckpointServiceData {
  readonly folder: string;
  readonly copyEveryMs: number | undefined;
}

class CheckpointService implements Guest {
  private readonly port: MessagePort;
  private readonly data: CheckpointServiceData;
  private file: StateFile | null = null;
  /** Rows that came before their save. */
  private readonly came = new Map<number, HeldRow[]>();

  constructor(port: MessagePort, data: CheckpointServiceData) {
    this.port = port;
    this.data = data;
    port.on("message", (request: CheckpointRequest) => {
      if (request.type === "rows") this.keep(request.id, request.rows);
      else if (request.type === "save") port.postMessage(this.save(request));
      else this.close();
    });
  }

  private keep(id: number, rows: readonly HeldRow[]): void {
    const before = this.came.get(id);
    if (before === undefined) this.came.set(id, [...rows]);
    else for (const row of rows) before.push(row);
  }

  private save({ id, nowMs, changes }: Extract<CheckpointRequest, { type: "save" }>): CheckpointAnswer {
    const rows = this.came.get(id) ?? [];
    this.came.delete(id);
    try {
      const isFirst = this.file === null;
      this.file ??= new StateFile(this.data.folder, this.data.copyEveryMs);
      const safeSeq = this.file.save({ ...changes, rows }, nowMs);
      return { id, error: null, safeSeq, fault: isFirst ? this.file.fault : null };
    } catch (error) {
      return { id, error: error instanceof Error ? error.message : String(error), safeSeq: 0, fault: null };
    }
  }

  close(): void {
    this.file?.close();
    this.file = null;
    this.port.close();
  }
}

/** Answers at the port: on a thread of its own, or on another's. */
export const serve: ServeGuest = (port, data) => new CheckpointService(port, data as CheckpointServiceData);
