import type { Line } from "../../line/index.ts";
import type { CurrentMeasurement, Gone, LateMeasurement } from "../../measurements/index.ts";
import type { PathEvent, Stage, StageContext } from "../../path/index.ts";
import { meterCell, runCell, witnessCell } from "../cells.ts";
import type { RunState } from "../run.ts";
import { cannotTell, flowPast, type PointWays, pointWays } from "./flow-past.ts";
import { outlastsCalls } from "./long-call.ts";
import { becameSteady, follow, newPointRun, type PointRun, runOf, settleDueMs } from "./point-run.ts";
import { isSteady, type SettleRule, settleRule } from "./settling.ts";

/** While water runs and nothing else changes, litres are told this often. */
const toldEveryMs = 1000;

type Context = StageContext<RunState>;
type Heard = CurrentMeasurement | LateMeasurement | Gone | (PathEvent & { readonly kind: "act" | "start" });

interface Runs {
  line: Line | null;
  ways: ReadonlyMap<string, PointWays>;
  rules: ReadonlyMap<string, SettleRule | null>;
  runs: Map<string, PointRun>;
  readonly changed: Set<string>;
  /** What came in this step may have changed the flow past any point. */
  isFlowTouched: boolean;
  atMs: number;
  isAnnounced: boolean;
}

function runAt(all: Runs, point: string, nowMs: number): PointRun {
  let run = all.runs.get(point);
  if (!run) {
    run = newPointRun(nowMs);
    all.runs.set(point, run);
  }
  return run;
}

/** Looks at the flow past a point; `isAnew`: told in any case. */
function look(
  all: Runs,
  ways: PointWays,
  { atMs, isAnew }: { readonly atMs: number; readonly isAnew: boolean },
  ctx: Context,
): void {
  const run = runAt(all, ways.point, atMs);
  const meter = ways.meter === null ? undefined : ctx.get(meterCell, ways.meter);
  const seen = flowPast(
    ways,
    (key) => ctx.get(meterCell, key),
    (drum) => ctx.get(witnessCell, drum),
  );
  const now = outlastsCalls(run, seen, atMs) ? cannotTell : seen;
  const rule = all.rules.get(ways.point) ?? null;
  const changed = follow(run, now, { rule, meter: meter ?? null }, atMs);
  all.changed.add(ways.point);
  ctx.wakeAt(ways.point, settleDueMs(run));
  if (!changed && !isAnew && !(run.flowing && atMs - run.toldMs >= toldEveryMs)) return;
  run.toldMs = atMs;
  const told = runOf(ways.point, run, atMs);
  ctx.put(runCell, ways.point, told);
  ctx.tell(told);
}

function take(all: Runs, { measurement }: CurrentMeasurement | LateMeasurement): void {
  const { quantity, subject, value, flag, tMs } = measurement;
  if (quantity === "flow" || quantity === "volume" || quantity === "state") {
    all.isFlowTouched = true;
    all.atMs = Math.max(all.atMs, tMs);
    return;
  }
  if (!all.isAnnounced) all.isFlowTouched = true;
  if (quantity !== "conductivity25" || subject.kind !== "point") return;
  const run = all.runs.get(subject.id);
  if (!run?.flowing || run.settled || run.rule?.by !== "steady") return;
  if (value === null || flag === 4 || flag === 9) return;
  all.changed.add(subject.id);
  if (isSteady(run.kappas, value, tMs)) {
    becameSteady(run);
    all.isFlowTouched = true;
    all.atMs = Math.max(all.atMs, tMs);
  }
}

/** Whether water runs past each point, and how much has since the run began. */
export function createRunsStage(): Stage<Heard, RunState> {
  const all: Runs = {
    line: null,
    ways: new Map(),
    rules: new Map(),
    runs: new Map(),
    changed: new Set(),
    isFlowTouched: false,
    atMs: 0,
    isAnnounced: false,
  };
  const touch = () => {
    all.isFlowTouched = true;
  };
  // A start tells what stands once more, and does so where the past is run again.
  const started = () => {
    all.isAnnounced = false;
    touch();
  };
  const acted = (_act: unknown, ctx: Context) => {
    all.atMs = Math.max(all.atMs, ctx.nowMs);
    touch();
  };
  return {
    name: "runs",
    version: 1,
    owns: [runCell],
    reads: [witnessCell, meterCell],
    hears: {
      current: (event) => take(all, event),
      late: (event) => take(all, event),
      gone: touch,
      act: acted,
      start: started,
    },
    useLine(line, _was, ctx) {
      all.line = line;
      all.ways = new Map(line.points.map(({ id }) => [id, pointWays(line, id)]));
      all.rules = new Map(line.points.map(({ id }) => [id, settleRule(line, id)]));
      for (const point of all.runs.keys())
        if (!all.ways.has(point)) {
          all.runs.delete(point);
          all.changed.add(point);
          ctx.put(runCell, point, undefined);
          ctx.wakeAt(point, null);
        }
      all.isAnnounced = false;
    },
    wake(point, ctx) {
      const ways = all.ways.get(point);
      if (ways) look(all, ways, { atMs: ctx.nowMs, isAnew: false }, ctx);
    },
    afterStep(ctx) {
      if (!all.isFlowTouched) return;
      all.isFlowTouched = false;
      const isAnew = !all.isAnnounced;
      all.isAnnounced = true;
      for (const ways of all.ways.values()) look(all, ways, { atMs: all.atMs || ctx.nowMs, isAnew }, ctx);
    },
    *dirty() {
      for (const point of all.changed) yield [point, all.runs.get(point)] as const;
      all.changed.clear();
    },
    load(rows, _version, ctx) {
      all.runs = structuredClone(new Map(rows)) as Map<string, PointRun>;
      for (const [point, run] of all.runs) {
        all.atMs = Math.max(all.atMs, run.lastMs);
        ctx.wakeAt(point, settleDueMs(run));
      }
      return true;
    },
  };
}
