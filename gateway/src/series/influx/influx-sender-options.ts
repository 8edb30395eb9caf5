import type { BatchLog, OwedRange } from "../batch-log.ts";
import type { SeriesStore } from "../series-store.ts";
import type { StoreThread } from "../store-thread.ts";
import type { InfluxState } from "./influx-state.ts";
import type { InfluxRequest } from "./requests.ts";
import type { SetAside } from "./set-aside.ts";

/** How often it is looked, and how long is waited. */
export interface Pace {
  /** So often it is looked for new batches, ms. */
  readonly lookEveryMs: number;
  /** How long to wait after so many failures in a row, ms. */
  readonly waitMs: (failures: number) => number;
  /** That it goes on is told once nothing has failed for so long, ms; at once where it is left out. */
  readonly goodForMs?: number;
}

/** What the sender works with. */
export interface InfluxSenderOptions {
  readonly log: BatchLog;
  readonly range: SeriesStore["range"];
  /** Whether a series is for others: rows of one that is not are passed over. */
  readonly isSent: (series: string) => boolean;
  readonly thread: StoreThread<InfluxRequest>;
  /** Time that only goes on, ms. */
  readonly steadyMs: () => number;
  readonly pace: Pace;
  /** What was set aside by earlier runs. */
  readonly aside: readonly SetAside[];
  /** Told when something was set aside. */
  readonly onAside: (all: readonly SetAside[]) => void;
  /** Stretches of earlier runs' writes that may be stored yet. */
  readonly inDoubt: readonly OwedRange[];
  /** Told before a write goes out, and when they change; nothing is sent until it resolves. */
  readonly onDoubt: (all: readonly OwedRange[]) => Promise<void>;
  /** Told when it begins to fail for a reason, once for each, and when it goes on for good. */
  readonly onChange: (failure: InfluxState["failure"]) => void;
}
