import type { Edges } from "../../measurements/index.ts";
import type { BeganAnew } from "./began-anew.ts";

/** An edge of a float counts at its second reading in a row, so long after the first (slosh is a matter of seconds). */
const edgeMs = 3000;
/** Two wet readings within this time are water at the float, whatever was read between. */
const wetWithinMs = 2 * 60_000;
/** A gap longer than so many of its periods is a silence. */
const gapPeriods = 2;
const chatterEdges = 3;
const chatterMs = 5 * 60_000;
/** Raw edges that are remembered for chatter. */
const maxEdges = 12;

/** What is remembered of one float. Plain data. */
export interface FloatTrace {
  /** What it says, slosh left out; null before its first reading. */
  wet: boolean | null;
  /** Since when, dated at the first reading that said so. */
  sinceMs: number;
  /** The edge that waits for its second reading. */
  pending: { readonly wet: boolean; readonly tMs: number } | null;
  lastMs: number;
  /** Spacing of its last readings, ms. */
  periodMs: number;
  /** Times of raw changes, newest last. */
  rawEdges: number[];
  lastRaw: boolean | null;
  /** The last two wet readings. */
  wetReadings: number[];
  /** False while it is silent. */
  heard: boolean;
  /** The silence in which its last edge lies; null when the edge was heard. */
  edgeInSilence: { readonly fromMs: number; readonly toMs: number } | null;
  silentSinceMs: number | null;
  /** Its last silence that ended as its node started anew; absent: none. */
  anew?: BeganAnew;
}

/** A float of which nothing was heard. */
export function newFloatTrace(): FloatTrace {
  return {
    wet: null,
    sinceMs: 0,
    pending: null,
    lastMs: 0,
    periodMs: 5000,
    rawEdges: [],
    lastRaw: null,
    wetReadings: [],
    heard: false,
    edgeInSilence: null,
    silentSinceMs: null,
  };
}

/** After a silence no two readings are in a row; a gateway that started anew between two packs has missed none. */
function takeGap(trace: FloatTrace, tMs: number): void {
  if (trace.silentSinceMs === null) return;
  if (tMs - trace.silentSinceMs <= gapPeriods * trace.periodMs + edgeMs) trace.silentSinceMs = null;
  else trace.pending = trace.heard ? trace.pending : null;
}

/**
 * Takes how often it changed over between two packs, by its node's own count. What no reading showed counts as once there
 * and back a pack, however often: bounce and slosh of one trip are over in seconds, and only what goes on chatters.
 */
export function takeCounted(trace: FloatTrace, tMs: number, edges: Edges | undefined): void {
  if (edges?.atMs !== tMs) return;
  const seen = trace.rawEdges.at(-1) === tMs ? 1 : 0;
  const unseen = Math.min(2, edges.count - seen);
  for (let edge = 0; edge < unseen; edge += 1) trace.rawEdges.push(tMs);
  trace.rawEdges = trace.rawEdges.slice(-maxEdges);
}

/** Takes a reading; true when what the float says has changed by it. */
export function takeFloat(trace: FloatTrace, wet: boolean, tMs: number, debounced = false): boolean {
  takeGap(trace, tMs);
  if (trace.heard && tMs > trace.lastMs) trace.periodMs = Math.min(60_000, tMs - trace.lastMs);
  if (trace.lastRaw !== null && trace.lastRaw !== wet) {
    trace.rawEdges.push(tMs);
    if (trace.rawEdges.length > maxEdges) trace.rawEdges.shift();
  }
  trace.lastRaw = wet;
  if (wet && trace.wetReadings.at(-1) !== tMs) trace.wetReadings = [...trace.wetReadings.slice(-1), tMs];
  trace.lastMs = tMs;
  trace.heard = true;
  if (trace.wet === null) {
    trace.wet = wet;
    trace.sinceMs = tMs;
    trace.silentSinceMs = null;
    return true;
  }
  if (trace.wet === wet) {
    trace.pending = null;
    trace.silentSinceMs = null;
    return false;
  }
  // Its node's clock may have been set back since.
  if (trace.pending === null || tMs < trace.pending.tMs) {
    trace.pending = { wet, tMs };
    if (!debounced) return false;
  }
  if (!debounced && tMs - trace.pending.tMs < edgeMs) return false;
  trace.edgeInSilence =
    trace.silentSinceMs === null ? null : { fromMs: trace.silentSinceMs, toMs: trace.pending.tMs };
  trace.wet = wet;
  trace.sinceMs = trace.pending.tMs;
  trace.pending = null;
  trace.silentSinceMs = null;
  return true;
}

/** The float fell silent, or the gateway did. */
export function silenceFloat(trace: FloatTrace): void {
  if (trace.wet === null) return;
  trace.heard = false;
  trace.silentSinceMs ??= trace.lastMs;
}

/** The float read wet twice within 2 min before its last reading: waves at a float that water reaches. */
export function wetTwice({ wetReadings, lastMs }: FloatTrace): boolean {
  const [first, second] = wetReadings;
  return first !== undefined && second !== undefined && lastMs - first <= wetWithinMs;
}

/** It changed over more than three times in the 5 min before its last reading. */
export function chatters({ rawEdges, lastMs }: FloatTrace): boolean {
  return rawEdges.filter((tMs) => lastMs - tMs <= chatterMs).length > chatterEdges;
}
