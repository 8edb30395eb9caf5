import type { Act } from "../../acts/index.ts";
import type { Line } from "../../line/index.ts";
import {
  countedCell,
  edgesCell,
  type Gone,
  type Measurement,
  proofCell,
  seriesOf,
  type Unheard,
} from "../../measurements/index.ts";
import { actsOf, type PathEvent, type Records, type Stage, type StageContext } from "../../path/index.ts";
import type { NodePresence } from "../../readings/index.ts";
import { meterCell, witnessCell } from "../cells.ts";
import type { Fill } from "../fill.ts";
import { rewiredFloats } from "../floats/float-rewired.ts";
import { takePresence } from "./debounced-contacts.ts";
import { type FloatEdge, tellEdge } from "./float-edge.ts";
import { forgetLevel } from "./level.ts";
import { takePersonWord } from "./person-word.ts";
import { seedSalt, takeSalt } from "./salt-acts.ts";
import { silence, silenceUnheard, silenceUntold } from "./silences.ts";
import { takeDrumLevel, takeMeter, takeState } from "./take-readings.ts";
import { doubtLevel } from "./water-due.ts";
import { waysOf } from "./ways.ts";
import { dirty, load } from "./witness-rows.ts";
import { newWitnessState } from "./witness-state.ts";
import { meterSaid, witnessesOf } from "./witness-view.ts";
import { lateMsOf, touch, type Witnesses } from "./witnesses.ts";

/** What waited in a node tells nothing of now, unless it has caught up with it by then. */
const caughtUpMs = 60_000;
const caughtUp = "late";

interface Heard extends PathEvent {
  readonly kind: "current" | "late" | "gone" | "unheard" | "act" | "presence";
}

type Current = PathEvent & { readonly kind: "current" | "late"; readonly measurement: Measurement };
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };

function take(all: Witnesses, measurement: Measurement, isLate: boolean, ctx: StageContext): void {
  const { quantity, subject, tMs } = measurement;
  if (quantity === "flow") takeMeter(all, measurement, isLate, ctx);
  else if (quantity === "volume" && subject.kind === "drum") takeDrumLevel(all, measurement);
  else if (quantity === "state") {
    const waited = all.state.floats.get(subject.id)?.pending ?? null;
    takeState(all, measurement, ctx);
    if (subject.kind === "float" && !isLate)
      tellEdge(waited, all.state.floats.get(subject.id), measurement, ctx);
  } else return;
  all.atMs = Math.max(all.atMs, tMs);
}

/** Takes a reading that had waited in its node: its witness speaks again, as of then. */
function takeLate(all: Witnesses, measurement: Measurement, ctx: StageContext): void {
  const { channel, subject, quantity, tMs } = measurement;
  if (all.late.size === 0) all.caughtUpAtMs = ctx.nowMs + caughtUpMs;
  ctx.wakeAt(caughtUp, all.caughtUpAtMs);
  const series = seriesOf(measurement);
  silenceUntold(all, series, tMs);
  all.changed.add("own");
  all.late.set(series, { kind: "gone", channel, subject, quantity, lastMs: tMs });
  take(all, measurement, true, ctx);
}

function takeCurrent(all: Witnesses, measurement: Measurement, ctx: StageContext): void {
  if (all.late.size > 0) {
    const series = seriesOf(measurement);
    silenceUntold(all, series, measurement.tMs);
    if (all.late.delete(series)) all.changed.add("own");
  }
  take(all, measurement, false, ctx);
}

function useLine(all: Witnesses, line: Line): void {
  all.line = line;
  all.ways = waysOf(line);
  const behind = new Map<string, string[]>();
  for (const [drum, { meters }] of all.ways)
    for (const { key } of meters) behind.set(key, [...(behind.get(key) ?? []), drum]);
  all.behind = behind;
}

function look(all: Witnesses, ctx: StageContext): void {
  // Of each step of the path: to empty a set that is empty costs as much as to make one.
  if (all.touchedMeters.size > 0) lookAtMeters(all, ctx);
  if (all.touched.size > 0) lookAtDrums(all, ctx);
}

function lookAtMeters(all: Witnesses, ctx: StageContext): void {
  for (const key of all.touchedMeters) {
    const isShared = (all.behind.get(key)?.length ?? 0) > 1;
    ctx.put(meterCell, key, meterSaid(all.state, key, { isShared }));
  }
  all.touchedMeters.clear();
}

function lookAtDrums(all: Witnesses, ctx: StageContext): void {
  for (const drum of all.touched) {
    const ways = all.ways.get(drum);
    if (!ways) continue;
    doubtLevel(all, ways);
    const said = witnessesOf(all.state, all.ways, ways, all.atMs || ctx.nowMs);
    const lateMs = all.late.size === 0 ? null : lateMsOf(all, ways);
    ctx.put(witnessCell, drum, lateMs === null ? said : { ...said, lateMs });
  }
  all.touched.clear();
}

function act(all: Witnesses, { act: given }: Acted, nowMs: number): void {
  const emptied =
    given.type === "release" && given.reason === "dumped" ? all.state.levels.get(given.drum) : null;
  if (emptied && given.type === "release") {
    forgetLevel(emptied);
    all.changed.add(`level ${given.drum}`);
  }
  takeSalt(all, given, nowMs);
  if (!takePersonWord(all.state.persons, given, nowMs)) return;
  all.changed.add(`person ${given.drum}`);
  all.atMs = Math.max(all.atMs, nowMs);
  touch(all, given.drum);
}

/** A person's word stands until a fill has ended after it; what nodes said they say again. */
function seed(all: Witnesses, records: Records): void {
  const endedMs = new Map(
    (records.list("fill", 1) as Fill[]).map(({ drum, endedAtMs }) => [drum, endedAtMs ?? 0]),
  );
  for (const { atMs, act: given } of actsOf(records, ["fill-started", "fill-stopped"])) {
    const flowing = given.type === "fill-started" && atMs >= (endedMs.get(given.drum) ?? 0);
    all.state.persons.set(given.drum, { flowing, sinceMs: atMs });
    all.changed.add(`person ${given.drum}`);
    touch(all, given.drum);
  }
  seedSalt(all, records, endedMs);
}

/** What every witness of every drum's inflow says: meters, levels, inlets, pumps, floats, persons. */
export function createWitnesses(): Stage<Heard, Gone | FloatEdge> {
  const all: Witnesses = {
    state: newWitnessState(),
    line: null,
    ways: new Map(),
    behind: new Map(),
    touched: new Set(),
    touchedMeters: new Set(),
    late: new Map(),
    caughtUpAtMs: 0,
    changed: new Set(),
    debounced: new Set(),
    atMs: 0,
  };
  return {
    name: "witnesses",
    version: 2,
    owns: [witnessCell, meterCell],
    reads: [countedCell, edgesCell, proofCell],
    hears: {
      current: (event, ctx) => takeCurrent(all, (event as Current).measurement, ctx),
      late: (event, ctx) => takeLate(all, (event as Current).measurement, ctx),
      gone: (event) => silence(all, event as unknown as Gone),
      act: (event, ctx) => act(all, event as Acted, ctx.nowMs),
      unheard: (event) => silenceUnheard(all, event as unknown as Unheard),
      presence: (event) => takePresence(all, event as unknown as NodePresence),
    },
    useLine(line, was) {
      useLine(all, line);
      for (const { float } of rewiredFloats(line, was)) {
        all.state.floats.delete(float.id);
        all.changed.add(`float ${float.id}`);
      }
      for (const drum of all.ways.keys()) all.touched.add(drum);
    },
    // Told once more: who goes by the witnesses has heard them speak since.
    wake(_key, ctx) {
      for (const gone of all.late.values()) {
        silence(all, gone);
        ctx.tell(gone);
      }
      all.late.clear();
      all.changed.add("own");
    },
    afterStep: (ctx) => look(all, ctx),
    dirty: () => dirty(all),
    load(rows, fromVersion, ctx) {
      load(all, rows, fromVersion);
      if (all.late.size > 0) ctx.wakeAt(caughtUp, all.caughtUpAtMs);
      return true;
    },
    seed: (records) => seed(all, records),
  };
}
