import type { Counted } from "../../measurements/index.ts";
import type { BeganAnew, LeftOut } from "./began-anew.ts";

/** Flow under this is standstill, L/min (common practice, no source). */
const leastFlowLPerMin = 0.05;
/** One flow reading stands for no longer than this unless its node is slower, ms. */
const longestStepMs = 60_000;
/** A silence of up to this in running water is bridged, ms. */
const bridgedMs = 15 * 60_000;

/** A node that starts anew in so short a time was not without power for long enough to tell of it. */
const leastOffMs = 15_000;
/** Nodes whose power comes back are heard again within this time, ms. */
const othersBackMs = 60_000;

/** A silence in running water whose litres are not booked yet: whether its house was without power shows only later. Plain data. */
interface OwedBridge {
  readonly fromMs: number;
  readonly toMs: number;
  readonly lPerMs: number;
  dueMs: number;
}

/** What is remembered of one flow meter. Plain data. */
export interface MeterTrace {
  flowing: boolean | null;
  /** Since when it says so. */
  sinceMs: number;
  flowLPerMin: number;
  /** Its last three flows, for a median. */
  lastFlows: number[];
  lastMs: number | null;
  periodMs: number;
  /** Litres that it counted since it was first heard: each reading stands for the time after it. */
  totalL: number;
  /** Of these, litres of silences that were bridged by the flow on both sides. */
  bridgedL: number;
  /** The last bridged silence, ms. */
  lastBridgedMs: number;
  /** When its own total last told what a silence had brought; absent: never. */
  coveredMs?: number;
  /** It has said 0 without a break since; null while it says otherwise or nothing. */
  zeroSinceMs: number | null;
  /** What its own total said at its last reading; and how its readings stand to what it says (calibration). */
  count?: { readonly start: number; readonly litres: number } | null;
  factor?: number;
  /** Litres when it last stood: water that ran before its first reading of a run is in the total already. */
  stillL?: number;
  /** What it says had waited in its node: it is of a time that is over. */
  isLate?: boolean;
  /** Its last silence that ended as its node started anew, and what was left out of its litres then; absent: none. */
  anew?: BeganAnew;
  leftOut?: LeftOut;
  owed?: OwedBridge;
  /** Before a silence that is not over: flow and when it was last heard. */
  silence: { readonly sinceMs: number; readonly flowLPerMin: number; readonly flowing: boolean } | null;
}

/** A meter of which nothing was heard. */
export function newMeterTrace(): MeterTrace {
  return {
    flowing: null,
    sinceMs: 0,
    flowLPerMin: 0,
    lastFlows: [],
    lastMs: null,
    periodMs: 5000,
    totalL: 0,
    bridgedL: 0,
    lastBridgedMs: 0,
    zeroSinceMs: null,
    silence: null,
  };
}

/** Books what came in over a silence; `off`: for so much of it there was no power, and no water ran. */
export function payBridge(meter: MeterTrace, off: BeganAnew | null = null): void {
  const { owed } = meter;
  if (!owed) return;
  delete meter.owed;
  const offMs = off ? off.toMs - off.fromMs : 0;
  if (off) meter.leftOut = { ...off, litres: owed.lPerMs * offMs };
  const litres = owed.lPerMs * (owed.toMs - owed.fromMs - offMs);
  meter.totalL += litres;
  meter.bridgedL += litres;
  meter.lastBridgedMs = owed.toMs - owed.fromMs;
}

/** What waited in a node comes before what waited in another: whether that was off too shows only behind both. */
export function isBridgeDue({ owed, flowing }: MeterTrace, tMs: number, isLate: boolean): boolean {
  if (!owed) return false;
  if (isLate) owed.dueMs = tMs + 2 * othersBackMs;
  return tMs >= owed.dueMs || flowing === false;
}

function bridge(meter: MeterTrace, flowLPerMin: number, tMs: number): void {
  const { silence, anew } = meter;
  meter.silence = null;
  if (!silence?.flowing || flowLPerMin === 0) return;
  const fromMs = silence.sinceMs;
  if (tMs - fromMs > bridgedMs) return;
  const isAnew = anew?.fromMs === fromMs && anew.toMs - fromMs >= leastOffMs;
  meter.owed = {
    ...{ fromMs, toMs: tMs, dueMs: isAnew ? tMs + othersBackMs : tMs },
    lPerMs: (silence.flowLPerMin + flowLPerMin) / 2 / 60_000,
  };
  if (!isAnew) payBridge(meter);
}

/** Litres since the reading before by the meter's own total; null where it has none, or it can't be gone by. */
function countedL(meter: MeterTrace, counted: Counted | null, said: number): number | null {
  const { count: before } = meter;
  if (counted?.said && counted.said > leastFlowLPerMin) meter.factor = said / counted.said;
  meter.count = counted && { start: counted.start, litres: counted.litres };
  if (!counted?.isExact || !before || before.start !== counted.start) return null;
  const rise = counted.litres - before.litres;
  return rise < 0 ? null : rise * (meter.factor ?? 1);
}

/** Takes a reading of flow, L/min, with what the meter's own total said beside it. */
export function takeFlow(meter: MeterTrace, said: number, tMs: number, counted: Counted | null = null): void {
  // Its node's clock was set back: what it counted meanwhile is in its own total.
  if (meter.lastMs !== null && tMs < meter.lastMs) meter.lastMs = tMs;
  const flowLPerMin = said > leastFlowLPerMin ? said : 0;
  const wasSilent = meter.silence?.flowing === true;
  const stepMs = meter.lastMs === null ? 0 : tMs - meter.lastMs;
  const rise = countedL(meter, counted, said);
  if (rise !== null && meter.lastMs !== null) {
    meter.totalL += rise;
    if (meter.silence) meter.coveredMs = tMs;
    if (meter.silence && rise > 0) {
      meter.bridgedL += rise;
      meter.lastBridgedMs = tMs - meter.silence.sinceMs;
    } else if (!meter.silence && stepMs > 0) meter.periodMs = Math.min(60_000, stepMs);
    meter.silence = null;
  } else if (meter.silence) bridge(meter, flowLPerMin, tMs);
  else if (stepMs > 0) {
    const standsMs = Math.min(stepMs, Math.max(longestStepMs, 3 * meter.periodMs));
    meter.totalL += (meter.flowLPerMin * standsMs) / 60_000;
    meter.periodMs = Math.min(60_000, stepMs);
  }
  const flowing = flowLPerMin > 0;
  if (meter.flowing !== flowing && !(wasSilent && flowing && stepMs <= bridgedMs)) meter.sinceMs = tMs;
  meter.flowing = flowing;
  if (!flowing) meter.stillL = meter.totalL;
  meter.flowLPerMin = flowLPerMin;
  meter.lastMs = tMs;
  meter.zeroSinceMs = flowing ? null : (meter.zeroSinceMs ?? tMs);
  meter.lastFlows.push(flowLPerMin);
  if (meter.lastFlows.length > 3) meter.lastFlows.shift();
}

/** The meter fell silent, or the gateway did: it was heard until its last reading. */
export function silenceMeter(meter: MeterTrace): void {
  if (meter.lastMs === null || meter.silence) return;
  payBridge(meter);
  meter.silence = {
    sinceMs: meter.lastMs,
    flowLPerMin: meter.flowLPerMin,
    flowing: meter.flowing === true,
  };
  meter.flowing = null;
  meter.isLate = false;
  meter.zeroSinceMs = null;
  meter.lastFlows = [];
}
