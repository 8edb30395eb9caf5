import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { KappaReading, KappaTrace } from "./kappa-trace.ts";

/** One reading is kept of each minute: readings so far apart still speak up to one another. */
const eachMs = 60_000;
/** A node that was away for longer has the stored readings derived again; nothing is kept for it. */
const keptMs = 24 * 3_600_000;
/** What of the trace is taken along when the drum falls silent. */
const beforeMs = 5 * 60_000;
/** A drum is silent once nothing that tells of its inflow was heard for so long. */
const silentMs = 60_000;
/** What waited in its nodes comes within this time. */
const forgottenMs = 5 * 60_000;

/**
 * What a point's probe read while a drum behind it was not heard: its nodes may keep packs of fills that lie before the
 * trace. Of each minute the greatest; null where the probe was no witness. Plain data; one row of the checkpoint.
 */
export interface PastKappa {
  readonly readings: KappaReading[];
  /** When a drum was last not heard, engine time. */
  silentMs: number;
}

/** Nothing that tells of the drum's inflow was heard so far: its node is silent, or has not caught up with the probe's. */
export function isUnheard(said: DrumWitnesses | undefined, tMs: number): boolean {
  const heardMs = said?.heardMs ?? null;
  return heardMs !== null && tMs - heardMs > silentMs;
}

function thin(readings: KappaReading[], { tMs, kappa25 }: KappaReading): void {
  const last = readings.at(-1);
  if (!last || Math.floor(last.tMs / eachMs) !== Math.floor(tMs / eachMs)) {
    if (!last || tMs > last.tMs) readings.push({ tMs, kappa25 });
    return;
  }
  const both = last.kappa25 === null || kappa25 === null ? null : Math.max(last.kappa25, kappa25);
  readings[readings.length - 1] = { tMs: last.tMs, kappa25: both };
}

/** Begins when a drum falls silent, with the last minutes of the trace. */
export function beginPast(trace: KappaTrace, nowMs: number): PastKappa {
  const past: PastKappa = { readings: [], silentMs: nowMs };
  const fromMs = (trace.at(-1)?.tMs ?? nowMs) - silentMs - beforeMs;
  for (const reading of trace) if (reading.tMs >= fromMs) thin(past.readings, reading);
  return past;
}

/** Goes on with the trace's last reading; false: nobody needs it any more. */
export function followPast(
  past: PastKappa,
  trace: KappaTrace,
  { isSilent, nowMs }: { readonly isSilent: boolean; readonly nowMs: number },
): boolean {
  if (isSilent) past.silentMs = nowMs;
  if (nowMs - past.silentMs > forgottenMs) return false;
  const last = trace.at(-1);
  if (!last) return true;
  thin(past.readings, last);
  while ((past.readings[0]?.tMs ?? last.tMs) < last.tMs - keptMs) past.readings.shift();
  return true;
}

/** The trace with what was kept of the time before it. */
export function withPast(trace: KappaTrace, past: PastKappa | undefined): KappaTrace {
  const fromMs = trace[0]?.tMs ?? Number.POSITIVE_INFINITY;
  if (!past || (past.readings[0]?.tMs ?? fromMs) >= fromMs) return trace;
  return [...past.readings.filter(({ tMs }) => tMs < fromMs), ...trace];
}
