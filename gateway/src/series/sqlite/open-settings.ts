import type { Worker } from "node:worker_threads";
import type { FileFault } from "../../database/index.ts";
import type { Retention } from "./retention.ts";

/** What is wrong with the store. */
export interface SeriesTrouble {
  readonly kind: "thread" | "file" | "unreadable";
  readonly text: string;
}

/** What the store's threads are started with. */
export interface OpenSettings {
  readonly path: string;
  readonly againMs: number;
  /** The reading thread ends when nothing was asked for so long. */
  readonly restMs: number;
  readonly lastSeq?: number;
  readonly retention: Retention;
  readonly onMended: (fault: FileFault) => void;
  readonly onThread: (worker: Worker) => void;
}
