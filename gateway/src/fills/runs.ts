import { type Drum, drumsBehind, type Line, stageInto } from "../line/index.ts";
import type { Measurement } from "../measurements/index.ts";
import type { Emit } from "../readings/index.ts";
import { type LevelTrace, riseLPerMin } from "./level-rise.ts";
import type { FlowBasis, RunState } from "./run.ts";
import { type Settling, settleRule } from "./settle.ts";

/** Flow under this is standstill, L/min (common practice, no source). */
const leastFlowLPerMin = 0.05;
/** Standstill after which first water is expected again. */
const rearmMs = 15 * 60_000;
/** A source of flow that says nothing for so long no longer tells. */
const silentMs = 100_000;
/** Longest stretch over which flow is taken to go on between two readings. */
const longestStepMs = 60_000;

interface SourceState {
  /** L/min where the source tells it; null where it only tells that water runs. */
  flowLPerMin: number | null;
  flowing: boolean;
  atMs: number;
}

interface PointRun {
  flowing: boolean | null;
  basis: FlowBasis;
  startedAtMs: number | null;
  endedAtMs: number | null;
  litres: number | null;
  flowLPerMin: number | null;
  settling: Settling | null;
  settled: boolean;
  settledBy: RunState["settledBy"];
  lastMs: number;
}

/** The whole state as plain JSON. */
export interface RunsState {
  readonly sources: Readonly<Record<string, SourceState>>;
  readonly levels: Readonly<Record<string, LevelTrace>>;
  readonly runs: Readonly<Record<string, PointRun>>;
  readonly lastPassMs: number;
}

/** One source of flow that a point can be judged by: its key among `sources`, and what it is worth. */
interface Basis {
  readonly key: string;
  readonly basis: FlowBasis;
}

function basesOfDrum(drum: Drum): Basis[] {
  const bases: Basis[] = [];
  if (drum.flow) bases.push({ key: `drum/${drum.id}/flow`, basis: "flow-meter" });
  if (drum.level) bases.push({ key: `drum/${drum.id}/level`, basis: "level" });
  if (drum.inlet) bases.push({ key: `inlet/${drum.id}`, basis: "inlet" });
  if (drum.control === "automatic" && drum.floats.some((float) => float.role === "stop"))
    bases.push({ key: `call/${drum.id}`, basis: "calling-float" });
  return bases;
}

/**
 * Whether water runs past each point, and how much has since the run began. A point is judged by the most trusted
 * source that speaks: a flow meter at it, then what the drums behind it tell (each by meter, level, inlet or call).
 */
export function createRuns() {
  let line: Line | null = null;
  let sources: Record<string, SourceState> = {};
  let levels: Record<string, LevelTrace> = {};
  let runs: Record<string, PointRun> = {};
  let lastPassMs = 0;
  let announced = false;
  const bases = new Map<string, readonly (readonly Basis[])[]>();

  function findBases(point: string): readonly (readonly Basis[])[] {
    if (!line) return [];
    const own: Basis = { key: `flow/${point}`, basis: "flow-meter" };
    const metered =
      line.points.some((candidate) => candidate.id === point && candidate.flow) ||
      line.stages.some((stage) => stage.to === point && stage.flow);
    if (metered) return [[own]];
    // Only points that water must pass on its way to the drum tell of this point.
    return drumsBehind(line, point).map((drum) => {
      const meters: Basis[] = [];
      for (
        let at: string | null = drum.fedBy;
        at !== null && at !== point;
        at = stageInto(line as Line, at)?.from ?? null
      ) {
        if (line?.stages.some((stage) => stage.to === at && stage.flow))
          meters.push({ key: `flow/${at}`, basis: "flow-meter" });
      }
      return [...meters, ...basesOfDrum(drum)];
    });
  }

  /** The best of one drum's (or one meter's) sources that spoke lately; null when none does. */
  function best(
    ranked: readonly Basis[],
    nowMs: number,
  ): { readonly source: SourceState; readonly basis: FlowBasis } | null {
    for (const { key, basis } of ranked) {
      const source = sources[key];
      if (source && nowMs - source.atMs <= silentMs) return { source, basis };
    }
    return null;
  }

  function known(
    point: string,
    nowMs: number,
  ): { readonly flowing: boolean | null; readonly basis: FlowBasis; readonly flowLPerMin: number | null } {
    const all = bases.get(point) ?? [];
    if (all.length === 0 || all.every((ranked) => ranked.length === 0))
      return { flowing: null, basis: "none", flowLPerMin: null };
    const spoken = all.map((ranked) => best(ranked, nowMs));
    const running = spoken.filter((found) => found?.source.flowing);
    const first = running[0];
    if (first) {
      const flows = running.map((found) => found?.source.flowLPerMin ?? null);
      const sum = flows.every((flow) => flow !== null)
        ? flows.reduce((total, flow) => (total ?? 0) + (flow ?? 0), 0)
        : null;
      return { flowing: true, basis: first.basis, flowLPerMin: sum };
    }
    if (spoken.some((found) => found === null))
      return { flowing: null, basis: all.flat()[0]?.basis ?? "none", flowLPerMin: null };
    return { flowing: false, basis: spoken[0]?.basis ?? "none", flowLPerMin: 0 };
  }

  function begin(point: string, run: PointRun, nowMs: number): void {
    const stoodMs = run.endedAtMs === null ? Number.POSITIVE_INFINITY : nowMs - run.endedAtMs;
    run.startedAtMs = nowMs;
    run.endedAtMs = null;
    run.litres = 0;
    const rule = settleRule(line as Line, point);
    if (stoodMs < rearmMs && run.settled) return;
    run.settling = rule;
    run.settled = rule === null;
    run.settledBy = rule === null ? "volume" : null;
  }

  function settle(run: PointRun, nowMs: number): void {
    if (run.settled || !run.settling || run.startedAtMs === null) return;
    const passed = nowMs - run.startedAtMs;
    if (run.litres !== null && run.flowLPerMin !== null && run.litres >= run.settling.litres)
      run.settledBy = "volume";
    else if (passed >= run.settling.hardLimitMs)
      run.settledBy = run.flowLPerMin === null ? "time" : "hard-limit";
    else return;
    run.settled = true;
  }

  function update(point: string, nowMs: number, emit: Emit<RunState>): void {
    const run: PointRun = runs[point] ?? {
      flowing: null,
      basis: "none",
      startedAtMs: null,
      endedAtMs: null,
      litres: null,
      flowLPerMin: null,
      settling: null,
      settled: false,
      settledBy: null,
      lastMs: nowMs,
    };
    runs[point] = run;
    const now = known(point, nowMs);
    if (run.flowing && run.flowLPerMin !== null && run.litres !== null) {
      run.litres += (run.flowLPerMin * Math.min(nowMs - run.lastMs, longestStepMs)) / 60_000;
    }
    if (now.flowing && run.flowing !== true) begin(point, run, nowMs);
    if (now.flowing === false && run.flowing !== false) {
      if (run.startedAtMs !== null && run.endedAtMs === null) run.endedAtMs = nowMs;
    }
    run.flowing = now.flowing;
    run.basis = now.basis;
    run.flowLPerMin = now.flowLPerMin;
    run.lastMs = nowMs;
    if (now.flowing) settle(run, nowMs);
    emit({
      kind: "run",
      point,
      flowing: run.flowing,
      basis: run.basis,
      startedAtMs: run.startedAtMs,
      endedAtMs: run.endedAtMs,
      litres: run.litres,
      flowLPerMin: run.flowLPerMin,
      settled: run.flowing ? run.settled : null,
      settledBy: run.flowing ? run.settledBy : null,
      atMs: nowMs,
    });
  }

  function updateAll(nowMs: number, emit: Emit<RunState>): void {
    for (const point of line?.points ?? []) update(point.id, nowMs, emit);
  }

  function take(measurement: Measurement): boolean {
    const { subject, quantity, value, flag, tMs } = measurement;
    if (value === null || flag === 4 || flag === 9) return false;
    const put = (key: string, flowing: boolean, flowLPerMin: number | null): true => {
      sources[key] = { flowing, flowLPerMin, atMs: tMs };
      return true;
    };
    if (quantity === "flow")
      return put(
        subject.kind === "drum" ? `drum/${subject.id}/flow` : `flow/${subject.id}`,
        value > leastFlowLPerMin,
        Math.max(0, value),
      );
    if (quantity === "volume" && subject.kind === "drum") {
      levels[subject.id] ??= [];
      const rise = riseLPerMin(levels[subject.id] as LevelTrace, tMs, value);
      return rise === null ? false : put(`drum/${subject.id}/level`, rise > 0, Math.max(0, rise));
    }
    if (quantity !== "state") return false;
    if (subject.kind === "inlet") return put(`inlet/${subject.id}`, value === 1, null);
    if (subject.kind === "float" && subject.id.endsWith(".stop"))
      return put(`call/${subject.id.slice(0, -".stop".length)}`, value === 0, null);
    return false;
  }

  return {
    useLine(next: Line): void {
      line = next;
      announced = false;
      bases.clear();
      for (const point of next.points) bases.set(point.id, findBases(point.id));
    },
    push(measurement: Measurement, nowMs: number, emit: Emit<RunState>): void {
      const told = take(measurement);
      // A line where nothing tells of flow must hear once that nothing does: conditions then judge by time.
      if (told || !announced) updateAll(nowMs, emit);
      announced = true;
    },
    /** The gateway started: what the sources said before is no longer news. */
    restarted(nowMs: number, emit: Emit<RunState>): void {
      for (const source of Object.values(sources)) source.atMs = Math.min(source.atMs, nowMs - silentMs - 1);
      updateAll(nowMs, emit);
    },
    nextDeadline(): number | null {
      let least: number | null = null;
      const offer = (ms: number) => {
        if (least === null || ms < least) least = ms;
      };
      for (const run of Object.values(runs)) {
        if (!run.flowing || run.startedAtMs === null) continue;
        if (!run.settled && run.settling)
          offer(Math.max(run.startedAtMs + run.settling.hardLimitMs, run.lastMs + 1));
      }
      // A source that has just fallen silent changes what is known, once.
      for (const source of Object.values(sources))
        if (source.atMs + silentMs + 1 > lastPassMs) offer(source.atMs + silentMs + 1);
      return least;
    },
    pass(nowMs: number, emit: Emit<RunState>): void {
      lastPassMs = nowMs;
      updateAll(nowMs, emit);
    },
    snapshot: (): RunsState => ({ sources, levels, runs, lastPassMs }),
    restore(state: RunsState): void {
      ({ sources, levels, runs, lastPassMs } = structuredClone(state) as {
        lastPassMs: number;
        sources: Record<string, SourceState>;
        levels: Record<string, LevelTrace>;
        runs: Record<string, PointRun>;
      });
    },
  };
}
