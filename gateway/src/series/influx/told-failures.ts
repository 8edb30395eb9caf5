import type { InfluxCode } from "./influx-outcome.ts";
import type { InfluxState } from "./influx-state.ts";

/**
 * What is told of failures: each kind once, until nothing has failed for a while. A server that comes and goes every few seconds
 * would fill the log.
 */
export class ToldFailures {
  private readonly goodForMs: number;
  private readonly tell: (failure: InfluxState["failure"]) => void;
  private readonly codes = new Set<InfluxCode>();
  /** Since when nothing has failed; null while it fails. */
  private goodSinceMs: number | null = null;

  constructor(goodForMs: number, tell: (failure: InfluxState["failure"]) => void) {
    this.goodForMs = goodForMs;
    this.tell = tell;
  }

  failed(failure: NonNullable<InfluxState["failure"]>): void {
    this.goodSinceMs = null;
    if (this.codes.has(failure.code)) return;
    this.codes.add(failure.code);
    this.tell(failure);
  }

  /** Nothing is wrong at this steady time, ms. */
  good(nowMs: number): void {
    if (this.codes.size === 0) return;
    this.goodSinceMs ??= nowMs;
    if (nowMs - this.goodSinceMs < this.goodForMs) return;
    this.codes.clear();
    this.tell(null);
  }
}
