import type { Act, ActRefused } from "../acts/index.ts";
import type { CurrentMeasurement, Gone } from "../measurements/index.ts";
import type { Cell, Records, Stage, StageContext } from "../path/index.ts";
import type { ActEntry } from "../readings/index.ts";
import { fillCell, inflowCell, learnedCell, runCell, waterCell } from "./cells.ts";
import type { DrumWater, Fill } from "./fill.ts";
import { createFills, type FillOutcome, type FillsState } from "./fills.ts";
import { createFlowSources, type FlowSourcesState } from "./flow-sources.ts";
import { learn, nothingLearned } from "./learned.ts";
import type { RunState } from "./run.ts";
import { createRuns, type RunsState } from "./runs.ts";

interface Start {
  readonly kind: "start";
  readonly receivedAt: number;
}
type Told = RunState | FillOutcome;
type Context = StageContext<Told>;
type DrumAct = Extract<Act, { drum: string }>;

/** The state as rows: each of the three parts whole. */
interface Saved {
  readonly sources: FlowSourcesState;
  readonly runs: RunsState;
  readonly fills: FillsState;
}

const refusals = {
  "no-such-drum": "The line has no such drum.",
  "not-possible-in-state": "It changes nothing in this state.",
} as const;
const isDrumAct = (act: Act): act is DrumAct =>
  act.type === "fill-started" || act.type === "fill-stopped" || act.type === "release";

/** The stage of the path that knows runs, fills and the drums' words. */
export function createFillsStage(): Stage<CurrentMeasurement | Gone | ActEntry | Start, Told> {
  const sources = createFlowSources();
  const runs = createRuns(sources);
  const fills = createFills(sources);
  let isDirty = false;

  const tellRun = (ctx: Context) => (run: RunState) => {
    ctx.put(runCell, run.point, run);
    fills.run(run);
    ctx.tell(run);
  };
  const tellFill = (ctx: Context) => (outcome: FillOutcome) => {
    if (outcome.kind === "fill") ctx.put(fillCell, outcome.drum, outcome);
    else ctx.put(waterCell, outcome.drum, outcome);
    ctx.put(learnedCell, outcome.drum, structuredClone(fills.learned(outcome.drum)));
    ctx.put(inflowCell, outcome.drum, fills.inflow(outcome.drum));
    ctx.tell(outcome);
  };
  const arm = (ctx: Context) => {
    isDirty = true;
    ctx.wakeAt("runs", runs.nextDeadline());
    ctx.wakeAt("fills", fills.nextDeadline());
  };

  return {
    name: "fills",
    version: 1,
    owns: [runCell, inflowCell, fillCell, waterCell, learnedCell],
    reads: [],
    acts: ["fill-started", "fill-stopped", "release"],
    hears: {
      start(_start, ctx) {
        runs.restarted(ctx.nowMs, tellRun(ctx));
        fills.restarted(ctx.nowMs, tellFill(ctx));
      },
      current({ measurement }, ctx) {
        runs.push(measurement, measurement.tMs, tellRun(ctx));
        fills.push(measurement, tellFill(ctx));
      },
      gone(gone, ctx) {
        runs.gone(gone, ctx.nowMs, tellRun(ctx));
        fills.gone(gone, ctx.nowMs, tellFill(ctx));
      },
      act({ act }, ctx) {
        if (!isDrumAct(act)) return;
        fills.act(act, ctx.nowMs, tellFill(ctx));
        if (act.type !== "release") runs.said(act.drum, ctx.nowMs, tellRun(ctx));
      },
    },
    useLine(line, _was, ctx) {
      runs.useLine(line);
      fills.useLine(line);
      for (const cell of [inflowCell, fillCell, waterCell, learnedCell] as readonly Cell<unknown>[])
        for (const [drum] of [...ctx.entries(cell)])
          if (!line.drums.some(({ id }) => id === drum)) ctx.put(cell, drum, undefined);
      for (const [point] of [...ctx.entries(runCell)])
        if (!line.points.some(({ id }) => id === point)) ctx.put(runCell, point, undefined);
      isDirty = true;
    },
    admit(act): ActRefused | null {
      const code = isDrumAct(act) ? fills.refusalOf(act) : null;
      return code === null ? null : { code, message: refusals[code] };
    },
    wake(key, ctx) {
      if (key === "runs") runs.pass(ctx.nowMs, tellRun(ctx));
      else fills.pass(ctx.nowMs, tellFill(ctx));
      arm(ctx);
    },
    afterStep: arm,
    *dirty() {
      if (isDirty)
        yield [
          "all",
          {
            sources: sources.snapshot(),
            runs: runs.snapshot(),
            fills: fills.snapshot(),
          } satisfies Saved,
        ];
      isDirty = false;
    },
    load(rows, fromVersion, ctx) {
      if (fromVersion > 1) return false;
      const saved = rows.get("all") as Saved | undefined;
      if (saved) {
        sources.restore(saved.sources);
        runs.restore(saved.runs);
        fills.restore(saved.fills);
        for (const outcome of fills.standing()) {
          if (outcome.kind === "fill") ctx.put(fillCell, outcome.drum, outcome);
          else ctx.put(waterCell, outcome.drum, outcome);
          ctx.put(learnedCell, outcome.drum, structuredClone(fills.learned(outcome.drum)));
        }
      }
      arm(ctx);
      return true;
    },
    seed(records: Records, ctx) {
      for (const word of records.last("drum-water") as DrumWater[]) {
        fills.useWord(word);
        ctx.put(waterCell, word.drum, word);
      }
      const learned = new Map<string, ReturnType<typeof nothingLearned>>();
      for (const fill of records.list("fill", 20) as Fill[]) {
        if (fill.end !== "float-tripped" || fill.withdrawn || fill.endedAtMs === null) continue;
        const known = learned.get(fill.drum) ?? nothingLearned();
        learned.set(fill.drum, known);
        learn(known, fill.tripAtL, fill.estimated ? null : fill.litres, fill.endedAtMs - fill.startedAtMs);
      }
      for (const [drum, known] of learned) fills.useLearned(drum, known);
    },
  };
}
