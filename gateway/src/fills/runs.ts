import type { Line } from "../line/index.ts";
import type { Gone, Measurement } from "../measurements/index.ts";
import type { Emit } from "../readings/index.ts";
import { byName } from "./by-name.ts";
import { type Basis, basesOfPoint, type createFlowSources } from "./flow-sources.ts";
import type { FlowBasis, RunState } from "./run.ts";
import { type Settling, settleRule } from "./settle.ts";

/** Standstill after which first water is expected again; a silence shorter than this does not end a run. */
const rearmMs = 15 * 60_000;
/** While water runs and nothing else changes, litres are told this often. */
const toldEveryMs = 1000;

/** What is remembered of the flow past one point. */
interface PointRun {
  flowing: boolean | null;
  basis: FlowBasis;
  startedAtMs: number | null;
  endedAtMs: number | null;
  litres: number | null;
  estimated: boolean;
  flowLPerMin: number | null;
  settling: Settling | null;
  settled: boolean;
  settledBy: RunState["settledBy"];
  lastMs: number;
  /** When water was last known to run, and how fast. */
  lastFlowingMs: number | null;
  lastFlowLPerMin: number | null;
  toldMs: number;
}

/** The whole state as plain JSON. */
export interface RunsState {
  readonly runs: Readonly<Record<string, PointRun>>;
  readonly announced: boolean;
}

/** What is known of a point's flow at one moment. */
interface Known {
  readonly flowing: boolean | null;
  readonly basis: FlowBasis;
  readonly flowLPerMin: number | null;
}

function newRun(nowMs: number): PointRun {
  return {
    flowing: null,
    basis: "none",
    startedAtMs: null,
    endedAtMs: null,
    litres: null,
    estimated: false,
    flowLPerMin: null,
    settling: null,
    settled: false,
    settledBy: null,
    lastMs: nowMs,
    lastFlowingMs: null,
    lastFlowLPerMin: null,
    toldMs: Number.NEGATIVE_INFINITY,
  };
}

/**
 * Whether water runs past each point, and how much has since the run began. A point is judged by the most trusted
 * source that speaks: a flow meter at it, then what the drums behind it tell (each by meter, level, inlet or call).
 * A silence of the source, or of the gateway, is a gap in the run and not its end.
 */
export function createRuns(sources: ReturnType<typeof createFlowSources>) {
  let line: Line | null = null;
  let runs = byName<PointRun>();
  let announced = false;
  let bases = new Map<string, readonly (readonly Basis[])[]>();
  let pointsOf = new Map<string, readonly string[]>();

  function known(point: string): Known {
    const all = bases.get(point) ?? [];
    const spoken = all.map((ranked) => sources.best(ranked));
    // Where only a person could tell and has not, nothing tells.
    if (all.flat().every(({ basis }) => basis === "person") && spoken.every((found) => found === null))
      return { flowing: null, basis: "none", flowLPerMin: null };
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
    run.estimated = false;
    if (stoodMs < rearmMs && run.settled) return;
    run.settling = settleRule(line as Line, point);
    run.settled = run.settling === null;
    run.settledBy = run.settled ? "volume" : null;
  }

  /** Water is known to run again: a short silence in a run is bridged by the flow round it, a long one ended it. */
  function beginOrGoOn(point: string, run: PointRun, now: Known, nowMs: number): void {
    const heardMs = run.lastFlowingMs;
    const open = run.flowing === null && run.startedAtMs !== null && run.endedAtMs === null;
    if (open && heardMs !== null && nowMs - heardMs < rearmMs) {
      run.estimated = true;
      if (run.litres !== null && run.lastFlowLPerMin !== null && now.flowLPerMin !== null)
        run.litres += (((run.lastFlowLPerMin + now.flowLPerMin) / 2) * (nowMs - heardMs)) / 60_000;
      return;
    }
    if (open) run.endedAtMs = heardMs;
    begin(point, run, nowMs);
  }

  function settle(run: PointRun, nowMs: number): void {
    if (run.settled || !run.settling || run.startedAtMs === null) return;
    if (run.litres !== null && run.flowLPerMin !== null && run.litres >= run.settling.litres)
      run.settledBy = "volume";
    else if (nowMs - run.startedAtMs >= run.settling.hardLimitMs)
      run.settledBy = run.flowLPerMin === null ? "time" : "hard-limit";
    else return;
    run.settled = true;
  }

  function update(point: string, nowMs: number, emit: Emit<RunState>, always = false): void {
    runs[point] ??= newRun(nowMs);
    const run = runs[point] as PointRun;
    const now = known(point);
    const { flowing, settled, basis } = run;
    // To the moment at which the source fell silent the flow is taken to have gone on only as far as it was heard.
    if (flowing && now.flowing !== null && run.flowLPerMin !== null && run.litres !== null)
      run.litres += (run.flowLPerMin * (nowMs - run.lastMs)) / 60_000;
    if (now.flowing && flowing !== true) beginOrGoOn(point, run, now, nowMs);
    if (now.flowing === false && run.startedAtMs !== null && run.endedAtMs === null)
      run.endedAtMs = flowing === null ? (run.lastFlowingMs ?? nowMs) : nowMs;
    run.flowing = now.flowing;
    run.basis = now.basis;
    run.flowLPerMin = now.flowLPerMin;
    run.lastMs = nowMs;
    if (now.flowing) {
      run.lastFlowingMs = nowMs;
      run.lastFlowLPerMin = now.flowLPerMin;
      settle(run, nowMs);
    }
    const changed = run.flowing !== flowing || run.settled !== settled || run.basis !== basis;
    if (!changed && !always && !(run.flowing && nowMs - run.toldMs >= toldEveryMs)) return;
    run.toldMs = nowMs;
    emit({
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
      atMs: nowMs,
    });
  }

  function updateAll(nowMs: number, emit: Emit<RunState>): void {
    for (const { id } of line?.points ?? []) update(id, nowMs, emit, true);
  }

  function updateOf(key: string | null, nowMs: number, emit: Emit<RunState>): void {
    for (const point of (key !== null && pointsOf.get(key)) || []) update(point, nowMs, emit);
  }

  return {
    useLine(next: Line): void {
      line = next;
      announced = false;
      bases = new Map(next.points.map(({ id }) => [id, basesOfPoint(next, id)]));
      const byKey = [...bases].flatMap(([point, all]) => all.flat().map(({ key }) => ({ key, point })));
      pointsOf = new Map(
        [...Map.groupBy(byKey, ({ key }) => key)].map(([key, found]) => [
          key,
          [...new Set(found.map(({ point }) => point))],
        ]),
      );
      for (const point of Object.keys(runs)) if (!bases.has(point)) delete runs[point];
    },
    push(measurement: Measurement, nowMs: number, emit: Emit<RunState>): void {
      const key = sources.take(measurement);
      // A line where nothing tells of flow must hear once that nothing does: conditions then judge by time.
      if (!announced) updateAll(nowMs, emit);
      else updateOf(key, nowMs, emit);
      announced = true;
    },
    gone({ subject, quantity }: Gone, nowMs: number, emit: Emit<RunState>): void {
      updateOf(sources.gone(subject, quantity), nowMs, emit);
    },
    /** A person said something of a drum's inflow. */
    said(drum: string, nowMs: number, emit: Emit<RunState>): void {
      updateOf(`person/${drum}`, nowMs, emit);
    },
    /** The gateway started: what the sources said before is no longer news. */
    restarted(nowMs: number, emit: Emit<RunState>): void {
      sources.forget();
      updateAll(nowMs, emit);
    },
    nextDeadline(): number | null {
      let least: number | null = null;
      for (const run of Object.values(runs)) {
        if (!run.flowing || run.settled || run.startedAtMs === null || !run.settling) continue;
        const atMs = run.startedAtMs + run.settling.hardLimitMs;
        if (least === null || atMs < least) least = atMs;
      }
      return least;
    },
    pass(nowMs: number, emit: Emit<RunState>): void {
      for (const [point, run] of Object.entries(runs))
        if (run.flowing && !run.settled) update(point, nowMs, emit);
    },
    snapshot: (): RunsState => ({ runs, announced }),
    restore(state: RunsState): void {
      runs = byName(structuredClone(state.runs));
      announced = state.announced;
    },
  };
}
