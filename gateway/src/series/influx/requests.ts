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
  /** Rows [from, to) of writes without an answer: they may be stored later, over what is written until then. */
  readonly inDoubt: readonly (readonly [from: number, to: number])[];
  /** Why it could not go on; null when it is done, or when it took long and only tells how far it is. */
  readonly failure: { readonly code: InfluxCode; readonly said: string } | null;
}
