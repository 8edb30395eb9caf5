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
import { isLiftAlone } from "../floats/float-tried.ts";
import { takePresence } from "./debounced-contacts.ts";
import { type FloatEdge, tellEdge } from "./float-edge.ts";
import { type FloatTrace, silenceFloat, takeCounted, takeFloat } from "./float-trace.ts";
import { forgetLevel, silenceLevel, takeLevel } from "./level.ts";
import { silenceMeter, takeFlow } from "./meter-trace.ts";
import { takePersonWord } from "./person-word.ts";
import { volumesAtEdge } from "./releases.ts";
import { endSaidBySight, endSaidByTrip } from "./said-over.ts";
import { seedSalt, takeSalt } from "./salt-acts.ts";
import { silence, silenceContact, silenceUnheard, silenceUntold } from "./silences.ts";
import { callOf, doubtLevel, meteredLPerMin, meteredSinceMs, openSinceMs } from "./water-due.ts";
import { waysOf } from "./ways.ts";
import { dirty, load } from "./witness-rows.ts";
import {
  floatOf,
  levelOf,
  meterOf,
  newWitnessState,
  releaseOf,
  sawFlow,
  takeContact,
} from "./witness-state.ts";
import { meterSaid, witnessesOf } from "./witness-view.ts";
import { keyOfMeter, lateMsOf, touch, type Witnesses } from "./witnesses.ts";

/** Until a drum's flow was seen, no more than this is taken to be possible, L/min (common practice, no source). */
const templateGreatestLPerMin = 10;
/** What waited in a node tells nothing of now, unless it has caught up with it by then. */
const caughtUpMs = 60_000;
const caughtUp = "late";

interface Heard extends PathEvent {
  readonly kind: "current" | "late" | "gone" | "unheard" | "act" | "presence";
}

type Current = PathEvent & { readonly kind: "current" | "late"; readonly measurement: Measurement };
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };

const isValid = ({ value, flag }: Measurement) => value !== null && flag !== 4 && flag !== 9;
function takeMeter(all: Witnesses, measurement: Measurement, isLate: boolean, ctx: StageContext): void {
  const key = keyOfMeter(measurement.subject);
  const drums = all.behind.get(key) ?? [];
  const meter = meterOf(all.state, key);
  if (isValid(measurement)) {
    const counted = ctx.get(countedCell, measurement.channel);
    const beside = counted?.tMs === measurement.tMs ? counted : null;
    takeFlow(meter, measurement.value as number, measurement.tMs, beside);
    meter.isLate = isLate;
    if (meter.lastFlows.length === 3 && drums.length === 1)
      sawFlow(all.state, drums[0] as string, Math.min(...meter.lastFlows));
  } else silenceMeter(meter);
  all.changed.add(`meter ${key}`);
  all.touchedMeters.add(key);
  for (const drum of drums) touch(all, drum);
}

function takeDrumLevel(all: Witnesses, measurement: Measurement): void {
  const { id } = measurement.subject;
  const ways = all.ways.get(id);
  if (!ways) return;
  const trace = levelOf(all.state, id);
  if (isValid(measurement)) {
    const stop = ways.stop ? all.state.floats.get(ways.stop.id) : undefined;
    const place = {
      volumeL: ways.drum.volumeL,
      greatestFlowLPerMin: Math.max(
        all.state.greatest.get(id) ?? 0,
        ways.drum.greatestFlowLPerMin ?? (all.state.greatest.has(id) ? 0 : templateGreatestLPerMin),
        2,
      ),
      // One that has begun to change over speaks against nothing.
      stopWet: stop?.heard && !stop.pending ? stop.wet : null,
      stopHeardMs: stop?.lastMs ?? null,
      releaseL: releaseOf(all.state, id, ways.stop),
      resolutionL: ways.drum.level
        ? ways.drum.level.as === "volume"
          ? (all.line?.channels.get(ways.drum.level.channel)?.resolution ?? null)
          : null
        : null,
      ...callOf(all, ways),
      openSinceMs: openSinceMs(all, id),
      meteredLPerMin: meteredLPerMin(all, ways),
      meteredSinceMs: meteredSinceMs(all, ways),
    };
    takeLevel(trace, place, measurement.tMs, measurement.value as number);
    if (trace.says === "flowing") sawFlow(all.state, id, trace.riseLPerMin);
    endSaidBySight(all, id, trace, { stop, releaseL: place.releaseL, volumeL: place.volumeL });
  } else silenceLevel(trace);
  all.changed.add(`level ${id}`);
  touch(all, id);
}

function takeStop(all: Witnesses, drum: string, float: FloatTrace, ctx: StageContext): void {
  const ways = all.ways.get(drum);
  if (!ways || isLiftAlone(ways.drum, float, ctx)) return;
  endSaidByTrip(all, drum, float);
  const volumes = volumesAtEdge(all.state, ways, float);
  if (!volumes) return;
  all.state.volumes.set(drum, volumes);
  all.changed.add(`volumes ${drum}`);
}

function takeState(all: Witnesses, measurement: Measurement, ctx: StageContext): void {
  const { subject, tMs } = measurement;
  const on = measurement.value === 1;
  const valid = isValid(measurement);
  if (subject.kind === "float") {
    const trace = floatOf(all.state, subject.id);
    if (!valid) silenceFloat(trace);
    else {
      const before = trace.wet;
      const changed = takeFloat(trace, on, tMs, all.debounced.has(measurement.channel));
      takeCounted(trace, tMs, ctx.get(edgesCell, measurement.channel));
      if (changed && before !== null && subject.role === "stop") takeStop(all, subject.drum, trace, ctx);
    }
    all.changed.add(`float ${subject.id}`);
    touch(all, subject.drum);
  } else if (subject.kind === "inlet") {
    if (valid) takeContact(all.state.inlets, subject.id, on, tMs);
    else silenceContact(all.state.inlets, subject.id);
    all.changed.add(`inlet ${subject.id}`);
    touch(all, subject.id);
  } else if (subject.kind === "pump") {
    if (valid) takeContact(all.state.pumps, subject.id, on, tMs);
    else silenceContact(all.state.pumps, subject.id);
    all.changed.add(`pump ${subject.id}`);
    for (const drum of all.ways.keys()) touch(all, drum);
  }
}

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
