import type { Behind } from "../batch-log.ts";
import type { InfluxCode } from "./influx-outcome.ts";
import type { SetAside } from "./set-aside.ts";

/** How the sending goes. */
export interface InfluxState {
  /** What is wrong now; null while all is well. */
  readonly failure: { readonly code: InfluxCode; readonly said: string; readonly tries: number } | null;
  /** Points that were sent since the start. */
  readonly sent: number;
  /** Calls that failed since the start, by code. */
  readonly failures: ReadonlyMap<InfluxCode, number>;
  readonly aside: readonly SetAside[];
  readonly behind: Behind;
  /** For how long it has not had everything, ms. */
  readonly behindMs: number;
}
