import type { Measurement } from "../../measurements/index.ts";

/** A silence of a channel that ended as its node started anew: when it was heard last before, and first after, ms. Plain data. */
export interface BeganAnew {
  readonly fromMs: number;
  readonly toMs: number;
  /** Of a level: litres that it said last before. */
  readonly litres?: number | null;
}

/** What a silence without power left out of a meter's litres. Plain data. */
export interface LeftOut extends BeganAnew {
  readonly litres: number;
}

/** What a node says just after its start is judged by nobody; that it says it tells that it has started. */
export const isOfStart = ({ flag, reasons }: Measurement): boolean =>
  flag === 9 && reasons.includes("settling-after-boot");

/** Notes the silence that ends with a node's start: the first word of it counts, and what was heard before is remembered. */
export function noteStart(
  trace: { readonly lastMs: number | null; anew?: BeganAnew; readonly lastL?: number | null },
  tMs: number,
): void {
  const { lastMs, anew, lastL } = trace;
  if (!lastMs || tMs <= lastMs || (anew && lastMs <= anew.fromMs)) return;
  trace.anew = { fromMs: lastMs, toMs: tMs, ...(lastL === undefined ? {} : { litres: lastL }) };
}
