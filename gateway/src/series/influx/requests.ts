import type { SeriesBatch } from "../batch-log.ts";
import type { InfluxCode } from "./influx-outcome.ts";
import type { SetAside } from "./set-aside.ts";

/** What the thread that writes to InfluxDB is asked. */
export type InfluxRequest =
  | { readonly type: "check" }
  | { readonly type: "write"; readonly batch: Omit<SeriesBatch, "id">; readonly from: number };

/** How it went. */
export interface InfluxAnswer {
  /** Rows of the batch up to here are there, or were set aside. */
  readonly written: number;
  readonly aside: readonly SetAside[];
  /** Why it could not go on; null when it is done. */
  readonly failure: { readonly code: InfluxCode; readonly said: string } | null;
}
