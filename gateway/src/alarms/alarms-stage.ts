import type {
  Batch,
  DrumWater,
  Fill,
  FloatChanged,
  GuardChange,
  ProbeChanged,
  RunState,
} from "../fills/index.ts";
import { batchCell, fillCell, floatCell, guardCell, probeCell, runCell, waterCell } from "../fills/index.ts";
import {
  type CurrentMeasurement,
  type Gone,
  type LateMeasurement,
  latestCell,
  type StaleMeasurement,
  seriesOf,
} from "../measurements/index.ts";
import type { Stage } from "../path/index.ts";
import {
  type ActEntry,
  type NodePresence,
  nodeCell,
  type PackTaken,
  type Rejection,
  type StartEntry,
  type WorldEntry,
  worldCell,
  worldKey,
} from "../readings/index.ts";
import { type DriftRead, driftCell } from "../trends/index.ts";
import type { AlarmChange } from "./alarm.ts";
import { alarmCell } from "./alarm-cell.ts";
import type { AnyCondition } from "./condition.ts";
import { AlarmEngine } from "./engine.ts";
import { conditionRows } from "./registry.ts";
import { type WorkChange, workCell, workKey } from "./work.ts";

type Heard =
  | CurrentMeasurement
  | LateMeasurement
  | StaleMeasurement
  | Gone
  | RunState
  | Fill
  | Batch
  | DrumWater
  | GuardChange
  | FloatChanged
  | DriftRead
  | ProbeChanged
  | NodePresence
  | PackTaken
  | Rejection
  | WorldEntry
  | ActEntry
  | WorkChange
  | StartEntry;

const alarmActs = [
  "acknowledge",
  "unacknowledge",
  "shelve",
  "unshelve",
  "reset",
  "out-of-service",
  "in-service",
] as const;

/** The stage of the path that judges conditions: every row, once for each subject that a step has touched. */
export function createAlarms(rows: readonly AnyCondition[] = conditionRows): Stage<Heard, AlarmChange> {
  const engine = new AlarmEngine(rows);
  /** What came in this step had waited in a node: what it touched is judged with what is of now. */
  let isLate = false;
  return {
    name: "alarms",
    version: 2,
    owns: [alarmCell],
    reads: [...new Set([workCell, ...engine.rows.flatMap((row) => row.reads)])],
    acts: alarmActs,
    hears: {
      current: ({ series, measurement }, ctx) => engine.calm.hear(series, measurement, ctx.nowMs),
      late({ measurement }) {
        isLate = true;
        engine.calm.wakeAll();
        engine.changed(latestCell, seriesOf(measurement));
      },
      stale: ({ measurement }) => engine.changed(latestCell, seriesOf(measurement)),
      gone: (gone) => engine.changed(latestCell, seriesOf(gone)),
      run: ({ point }) => engine.changed(runCell, point),
      fill: ({ drum }) => engine.changed(fillCell, drum),
      "float-now": ({ float }) => engine.changed(floatCell, float),
      drift: ({ drum }) => engine.changed(driftCell, drum),
      "probe-now": ({ channel }) => engine.changed(probeCell, channel),
      guard: ({ drum }) => engine.changed(guardCell, drum),
      batch: ({ drum }) => engine.changed(batchCell, drum),
      "drum-water": ({ drum }) => engine.changed(waterCell, drum),
      presence: ({ node }) => engine.changed(nodeCell, node),
      pack: ({ node }) => engine.changed(nodeCell, node),
      rejection: ({ node }) => {
        if (node !== null) engine.changed(nodeCell, node);
      },
      world: (entry) => engine.changed(worldCell, worldKey(entry)),
      act: ({ act }, ctx) => engine.take(act, ctx),
      work(change, ctx) {
        engine.changed(workCell, workKey(change.subject));
        engine.work(change, ctx);
      },
      start: ({ receivedAt }) => engine.started(receivedAt),
    },
    useLine: (line, _was, ctx) => engine.useLine(line, ctx),
    admit: (act, ctx) => engine.refusalOf(act, ctx),
    wake: (key, ctx) => engine.due(key, ctx),
    afterStep(ctx) {
      if (!isLate) engine.judgeTouched(ctx);
      engine.calm.stepOver();
      isLate = false;
    },
    dirty: () => engine.dirty(),
    load(rows, fromVersion, ctx) {
      if (fromVersion > 2) return false;
      engine.load(rows, fromVersion, ctx);
      return true;
    },
    seed: (records, ctx) => engine.seed(records, ctx),
  };
}
