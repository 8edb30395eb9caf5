import type { FlowBasis, RunState } from "../run.ts";
import type { FlowPast } from "./flow-past.ts";
import type { RunCalls } from "./long-call.ts";
import { isFalling, type KappaTrace, type SettleRule } from "./settling.ts";

/** Standstill after which first water is expected again; a silence shorter than this does not end a run. */
const rearmMs = 15 * 60_000;
/** A run that ended so soon after first water was waited for by time was hardly judged: the next one goes on with it. */
const judgedMs = 60_000;
/** A shorter call is none: the float was moved by hand. */
const leastCallMs = 30_000;

/** What is remembered of the flow past one point. Plain data. */
export interface PointRun extends RunCalls {
  flowing: boolean | null;
  basis: FlowBasis;
  startedAtMs: number | null;
  endedAtMs: number | null;
  litres: number | null;
  /** Total of the point's meter when it was last looked at. */
  meterL: number | null;
  meterBridgedL: number;
  estimated: boolean;
  flowLPerMin: number | null;
  rule: SettleRule | null;
  /** First water of earlier runs that ended before they settled: litres and time. */
  carriedL: number;
  carriedMs: number;
  settled: boolean;
  settledBy: RunState["settledBy"];
  /** When it settled; absent in rows of versions before. */
  settledAtMs?: number | null;
  /** How long a float last called, from its release to its trip; absent in rows of versions before. */
  lastCallMs?: number | null;
  afterStandstill: boolean;
  kappas: KappaTrace;
  lastMs: number;
  lastFlowingMs: number | null;
  toldMs: number;
}

/** Nothing is known of the flow past a point. */
export function newPointRun(nowMs: number): PointRun {
  return {
    flowing: null,
    basis: "none",
    startedAtMs: null,
    endedAtMs: null,
    litres: null,
    meterL: null,
    meterBridgedL: 0,
    estimated: false,
    flowLPerMin: null,
    rule: null,
    carriedL: 0,
    carriedMs: 0,
    settled: false,
    settledBy: null,
    afterStandstill: false,
    kappas: [],
    lastMs: nowMs,
    lastFlowingMs: null,
    toldMs: Number.NEGATIVE_INFINITY,
  };
}

/** First water was waited for by time, and next to nothing was left of the run after it. */
function wasHardlyJudged(run: PointRun): boolean {
  const { settledBy, settledAtMs, endedAtMs } = run;
  return settledBy === "time" && settledAtMs != null && (endedAtMs ?? run.lastMs) - settledAtMs < judgedMs;
}

function carry(run: PointRun): void {
  if (run.rule === null || run.startedAtMs === null) return;
  run.carriedL += run.litres ?? 0;
  run.carriedMs += Math.max(0, (run.endedAtMs ?? run.lastMs) - run.startedAtMs);
}

/** Water begins to run: first water is waited for after a standstill of more than 15 min, or on with what has not settled. */
function begin(run: PointRun, now: FlowPast, rule: SettleRule | null, atMs: number): void {
  // A level must rise for a while before it is seen to: the run began where the rise did.
  const nowMs = Math.min(atMs, Math.max(now.sinceMs ?? atMs, run.endedAtMs ?? 0));
  const stoodMs = run.endedAtMs === null ? null : nowMs - run.endedAtMs;
  const stoodLong = stoodMs !== null && stoodMs >= rearmMs;
  const isJudged = run.settled && !wasHardlyJudged(run);
  if (!isJudged) carry(run);
  else if (stoodLong) {
    run.carriedL = 0;
    run.carriedMs = 0;
  }
  run.startedAtMs = nowMs;
  run.endedAtMs = null;
  run.litres = ((now.flowLPerMin ?? 0) * (atMs - nowMs)) / 60_000;
  run.estimated = false;
  run.kappas = [];
  run.rule = rule;
  if (run.settled && stoodMs !== null && !stoodLong) return;
  run.afterStandstill = stoodLong;
  run.settled = rule === null;
  run.settledBy = run.settled ? "volume" : null;
}

/** Litres since the last look: by the point's own meter, else by what flowed. */
function count(run: PointRun, now: FlowPast, meter: MeterCount | null, nowMs: number): void {
  if (run.litres === null) return;
  if (meter && run.meterL !== null && now.basis === "flow-meter") {
    run.litres += meter.totalL - run.meterL;
    if (meter.bridgedL > run.meterBridgedL) run.estimated = true;
  } else if (run.flowing && run.flowLPerMin !== null)
    run.litres += (run.flowLPerMin * Math.max(0, nowMs - run.lastMs)) / 60_000;
}

/** What a point's own meter has counted. */
export interface MeterCount {
  readonly totalL: number;
  readonly bridgedL: number;
}

/** Litres of this run so far: as counted, or for a float that calls by how long its last call took; null: not known. */
function litresSoFar(run: PointRun, { callL }: FlowPast, nowMs: number): number | null {
  if (run.flowLPerMin !== null) return run.litres ?? 0;
  if (callL === undefined || run.lastCallMs == null || run.startedAtMs === null) return null;
  return (callL * (nowMs - run.startedAtMs)) / run.lastCallMs;
}

/** How long first water may take now, ms. */
function limitMs({ kappas }: PointRun, { hardLimitMs, fallingLimitMs }: SettleRule): number {
  return fallingLimitMs !== undefined && isFalling(kappas) ? fallingLimitMs : hardLimitMs;
}

function settle(run: PointRun, now: FlowPast, nowMs: number): void {
  if (run.settled || run.rule === null || run.startedAtMs === null) return;
  const { rule } = run;
  const ranMs = nowMs - run.startedAtMs + run.carriedMs;
  const litres = litresSoFar(run, now, nowMs);
  if (rule.by === "litres" && litres !== null && litres + run.carriedL >= rule.litres)
    run.settledBy = run.flowLPerMin === null ? "time" : "volume";
  else if (ranMs >= limitMs(run, rule)) run.settledBy = run.flowLPerMin === null ? "time" : "hard-limit";
  else return;
  run.settled = true;
  run.settledAtMs = nowMs;
}

/** A call that was seen from its release to its trip. */
function markCall(run: PointRun, now: FlowPast, atMs: number): void {
  if (run.basis !== "calling-float" || run.flowing !== true || now.flowing !== false) return;
  const ms = atMs - (run.startedAtMs ?? atMs);
  if (ms >= leastCallMs) run.lastCallMs = ms;
}

/** What it goes on with was told before a silence of which nobody told: it was not known meanwhile whether water ran. */
function knownBefore({ flowing, lastFlowingMs }: PointRun, { unbrokenSinceMs }: FlowPast): boolean | null {
  const wasUnheard = flowing && lastFlowingMs !== null && (unbrokenSinceMs ?? 0) - lastFlowingMs > rearmMs;
  return wasUnheard ? null : flowing;
}

/** Goes on with what is known now; true when something that others judge by has changed. */
export function follow(
  run: PointRun,
  now: FlowPast,
  { rule, meter }: { readonly rule: SettleRule | null; readonly meter: MeterCount | null },
  nowMs: number,
): boolean {
  const { settled, basis } = run;
  const flowing = knownBefore(run, now);
  const atMs = Math.max(nowMs, run.lastMs);
  const heardMs = run.lastFlowingMs;
  const isOpen = run.startedAtMs !== null && run.endedAtMs === null;
  const goesOn =
    now.flowing === true && flowing === null && isOpen && (heardMs === null || atMs - heardMs < rearmMs);
  if (goesOn) run.estimated = run.estimated || heardMs === null || atMs - heardMs > 0;
  if (now.flowing && flowing !== true && !goesOn) {
    if (isOpen && flowing === null) run.endedAtMs = heardMs;
    begin(run, now, rule, atMs);
  } else if (now.flowing !== null) count(run, now, meter, atMs);
  markCall(run, now, atMs);
  if (now.flowing === false && run.startedAtMs !== null && run.endedAtMs === null)
    run.endedAtMs = flowing === null ? (run.lastFlowingMs ?? atMs) : atMs;
  if (meter && now.flowing !== null) {
    run.meterL = meter.totalL;
    run.meterBridgedL = meter.bridgedL;
  }
  run.flowing = now.flowing;
  run.basis = now.basis;
  run.flowLPerMin = now.flowLPerMin;
  run.lastMs = atMs;
  if (now.flowing) {
    run.lastFlowingMs = atMs;
    settle(run, now, atMs);
  }
  return run.flowing !== flowing || run.settled !== settled || run.basis !== basis;
}

/** The water behind a membrane has become steady. */
export function becameSteady(run: PointRun): void {
  if (run.settled || run.rule?.by !== "steady" || run.flowing !== true) return;
  run.settled = true;
  run.settledBy = "steady";
}

/** When first water is over at the latest, epoch ms; null when nothing is waited for. */
export function settleDueMs(run: PointRun): number | null {
  if (!run.flowing || run.settled || run.startedAtMs === null || run.rule === null) return null;
  return run.startedAtMs + limitMs(run, run.rule) - run.carriedMs;
}

/** The run as it is told. */
export function runOf(point: string, run: PointRun, atMs: number): RunState {
  return {
    kind: "run",
    point,
    flowing: run.flowing,
    basis: run.basis,
    startedAtMs: run.startedAtMs,
    endedAtMs: run.endedAtMs,
    litres: run.litres,
    estimated: run.estimated,
    flowLPerMin: run.flowLPerMin,
    settled: run.flowing ? run.settled : null,
    settledBy: run.flowing ? run.settledBy : null,
    afterStandstill: run.afterStandstill,
    atMs,
  };
}
