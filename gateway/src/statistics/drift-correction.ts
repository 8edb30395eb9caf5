import { OutOfRange, requireInRange } from "../quantities/index.ts";

/** What has to be added at a reading, as a check against standards found it. Both in the probe's unit. */
export interface CorrectionPair {
  readonly reading: number;
  readonly correction: number;
}

/** The time over which a probe drifted: from its last good check to the check that found the error. */
export interface DriftSpan {
  readonly fromMs: number;
  readonly toMs: number;
  /** By rising reading, at least one. One pair shifts every reading alike; two and more also tilt the scale. */
  readonly pairs: readonly CorrectionPair[];
}

/**
 * What to add to a reading taken during a drift: nothing at the last check, all of it at this one, in proportion to time
 * between; by reading with a straight line between the pairs, and the end's own correction beyond them. USGS Techniques
 * and Methods 1-D3 (Wagner et al., 2006), variable data corrections. Throws OutOfRange outside the span, for an empty
 * span, for no pairs and for pairs whose readings don't rise.
 */
export function correctionAt(span: DriftSpan, atMs: number, reading: number): number {
  const { fromMs, toMs, pairs } = span;
  requireInRange("number of pairs", pairs.length, 1, 1000, "1");
  requireInRange("end of the span", toMs, fromMs + 1, Number.MAX_SAFE_INTEGER, "ms");
  requireInRange("time", atMs, fromMs, toMs, "ms");
  requireRising(pairs);
  return ((atMs - fromMs) / (toMs - fromMs)) * fullCorrection(pairs, reading);
}

function requireRising(pairs: readonly CorrectionPair[]): void {
  for (const [place, pair] of pairs.entries()) {
    const before = pairs[place - 1];
    if (!before || pair.reading > before.reading) continue;
    const hint = "Readings of pairs must rise.";
    throw new OutOfRange("reading of a pair", pair.reading, before.reading, Number.MAX_VALUE, "1", hint);
  }
}

function fullCorrection(pairs: readonly CorrectionPair[], reading: number): number {
  const place = pairs.findIndex((pair) => reading <= pair.reading);
  const above = pairs[place] ?? (pairs.at(-1) as CorrectionPair);
  const below = pairs[place - 1];
  if (!below) return above.correction;
  const share = (reading - below.reading) / (above.reading - below.reading);
  return below.correction + share * (above.correction - below.correction);
}
