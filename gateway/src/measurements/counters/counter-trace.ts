import type { CounterKind } from "@drumlin/firmware-protocol";
import type { Unchanged } from "./unchanged.ts";

/** Flow under this is standstill, L/min (common practice, no source). */
const leastFlowLPerMin = 0.05;
/** A flow stands for the time between two readings up to this far apart, ms. */
const longestStepMs = 120_000;
/** So much must have run past a meter before its total is held against it, litres and steps (common practice, no source). */
const leastCheckL = 2;
const leastCheckSteps = 3;
/** A total in which less than this share of what ran was counted does not count. */
const leastCounted = 0.5;
/** A meter whose total goes on in greater steps proves no drum empty, mL (common practice, no source). */
const greatestStepMl = 1000;
const mlPerM3 = 1e6;

/** One reading of a counter, with what its channel said in the same pack. */
export interface CounterReading {
  /** Which start of the node it counts from. */
  readonly start: number;
  /** Changes, or m³. */
  readonly value: number;
  readonly tMs: number;
  /** Of the channel itself: 0 or 1 of a contact, L/min of a meter; null where the pack does not tell. */
  readonly said: number | null;
}

/** What is remembered of one counter. Plain data. */
export interface CounterTrace {
  readonly kind: CounterKind;
  start: number;
  value: number;
  /** It has stood at its value between these times. */
  sinceMs: number;
  atMs: number;
  said: number | null;
  /** It stands since a count; else since its node's start, or since it was first heard. */
  hasCounted?: boolean;
  /** It was seen to count what its channel told: else a number that always stands would prove everything. */
  isCounting: boolean;
  /** It fell within one start: it is smaller than 32 bits, and what it stands at tells nothing. */
  hasWrapped: boolean;
  /** Greatest step of which all its rises are multiples, mL; 0 before the first. */
  stepMl: number;
  /** Changes of the contact, or litres past the meter, that have not been counted yet, and litres counted. */
  ran: number;
  counted: number;
}

/** A counter at its first reading. */
export const firstTrace = (kind: CounterKind, { start, value, tMs, said }: CounterReading): CounterTrace => ({
  kind,
  start,
  value,
  sinceMs: tMs,
  atMs: tMs,
  said,
  isCounting: false,
  hasWrapped: false,
  stepMl: 0,
  ran: 0,
  counted: 0,
});

const commonStep = (a: number, b: number): number => (b === 0 ? a : commonStep(b, a % b));

function begin(trace: CounterTrace, { start, value, tMs, said }: CounterReading): void {
  trace.start = start;
  trace.value = value;
  trace.sinceMs = tMs;
  trace.atMs = tMs;
  trace.said = said;
  trace.hasCounted = false;
  trace.ran = 0;
  trace.counted = 0;
}

/** A contact that changed over is counted in the same pack, or in the next one where it changed on the way. */
function checkChanges(trace: CounterTrace, rise: number, { said }: CounterReading): boolean {
  const hasChanged = said !== null && trace.said !== null && said !== trace.said;
  if (rise > 0) {
    if (hasChanged || trace.ran > 0) trace.isCounting = true;
    trace.ran = 0;
  } else if (trace.ran > 0) trace.isCounting = false;
  else if (hasChanged) trace.ran = 1;
  return hasChanged;
}

/** What runs past a meter is counted by its total. */
function checkTotal(trace: CounterTrace, rise: number, { said, tMs }: CounterReading): boolean {
  const riseMl = Math.max(1, Math.round(rise * mlPerM3));
  if (rise > 0) trace.stepMl = commonStep(trace.stepMl, riseMl);
  trace.counted += rise * 1000;
  const both = Math.min(said ?? 0, trace.said ?? 0);
  const stepMs = tMs - trace.atMs;
  if (both > leastFlowLPerMin && stepMs <= longestStepMs) trace.ran += (both * stepMs) / 60_000;
  if (trace.ran > Math.max(leastCheckL, (leastCheckSteps * trace.stepMl) / 1000)) {
    trace.isCounting = trace.counted >= leastCounted * trace.ran;
    trace.ran = 0;
    trace.counted = 0;
  }
  return (said ?? 0) > leastFlowLPerMin;
}

/**
 * Takes a reading. One that came late and disagrees with what stood since then ends the stand; a count of another start
 * of the node begins anew, whatever it says.
 */
export function takeCount(trace: CounterTrace, reading: CounterReading): void {
  const { start, value, tMs, said } = reading;
  if (tMs <= trace.atMs) {
    if (tMs >= trace.sinceMs && (start !== trace.start || value !== trace.value)) trace.sinceMs = trace.atMs;
    return;
  }
  if (start !== trace.start) {
    begin(trace, reading);
    return;
  }
  const rise = value - trace.value;
  if (rise < 0) {
    trace.hasWrapped = true;
    begin(trace, reading);
    return;
  }
  const happens =
    trace.kind === "changes" ? checkChanges(trace, rise, reading) : checkTotal(trace, rise, reading);
  if (rise !== 0 || happens) {
    trace.sinceMs = tMs;
    trace.hasCounted = true;
  }
  trace.atMs = tMs;
  trace.value = value;
  trace.said = said;
}

/** What the counter proves now; null: nothing. `scale` is that of its meter in the line file. */
export function provedBy(trace: CounterTrace, scale = 1): Unchanged | null {
  const { kind, isCounting, hasWrapped, stepMl, sinceMs, atMs, hasCounted = false } = trace;
  if (!isCounting || hasWrapped) return null;
  if (kind === "changes") return { sinceMs, atMs, withinL: 0, counted: hasCounted };
  if (stepMl === 0 || stepMl * scale > greatestStepMl) return null;
  return { sinceMs, atMs, withinL: (stepMl * scale) / 1000, counted: hasCounted };
}
