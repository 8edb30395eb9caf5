import type { Act, ActRefused } from "../../acts/index.ts";
import type { Line } from "../../line/index.ts";
import {
  type CurrentMeasurement,
  type Gone,
  type LateMeasurement,
  latestCell,
  type Measurement,
  proofCell,
} from "../../measurements/index.ts";
import type { PathEvent, Stage, StageContext } from "../../path/index.ts";
import { say } from "../../words/index.ts";
import {
  feedCell,
  fillCell,
  guardCell,
  inflowCell,
  learnedCell,
  probeCell,
  runCell,
  witnessCell,
} from "../cells.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { rewiredFloats } from "../floats/float-rewired.ts";
import { isStopTried } from "../floats/float-tried.ts";
import { followGuard } from "../guard/follow-guard.ts";
import { type GuardChange, isSameMatter } from "../guard/guard.ts";
import { takeSaidTrip } from "../learned.ts";
import { type Reason, readReason } from "../reason.ts";
import { markDoubted } from "./doubted.ts";
import type { DrumPlace } from "./drum-record.ts";
import { factsOf } from "./facts.ts";
import { toldAtMs } from "./fill-over.ts";
import { completed, type Fills, mapsOf, recordOf, saidTripL } from "./fills-state.ts";
import { closeFill, followFill } from "./follow-fill.ts";
import { hearKappa } from "./judge-hole.ts";
import { takeKappa } from "./judge-quality.ts";
import { judgeTold } from "./judge-told.ts";
import { keptOf } from "./kappa-trace.ts";
import { takeMoved } from "./moved.ts";
import { notOver } from "./over-limit.ts";
import { overflowProvedUntilMs } from "./overflow-proof.ts";
import { owe } from "./owed-fills.ts";
import { placesOf } from "./places.ts";
import { type Following, runningFill } from "./running.ts";
import { afterReset, drumOfReset, seedFills, takeUp } from "./seed-fills.ts";
import { seeingOf } from "./seeing.ts";
import { showLearned } from "./show-learned.ts";

type Context = StageContext<Fill | GuardChange>;
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };
type Heard =
  | Measurement
  | CurrentMeasurement
  | LateMeasurement
  | Gone
  | Acted
  | (PathEvent & { readonly kind: "start" });

/** What waited in a node comes within this time. */
const backlogMs = 60_000;

function followingOf(all: Fills, place: DrumPlace, said: DrumWitnesses, ctx: Context): Following {
  const record = recordOf(all, place.drum.id);
  return {
    place,
    record,
    said,
    seeing: seeingOf(all, place, ctx),
    isLate: all.isLate,
    isTried: isStopTried(place.drum, said, ctx),
    isAwaiting: all.isLate || ctx.nowMs < (record.open?.awaitsMs ?? 0),
    overflowProvedUntilMs: overflowProvedUntilMs(place, ctx),
    tell(fill) {
      ctx.put(fillCell, fill.drum, fill);
      ctx.tell(fill);
    },
    judgeTold: () => judgeTold(all, place),
    owe(open, fill) {
      const owed = owe(all.owed.get(fill.drum) ?? [], open, fill, record.learned.callsMs);
      if (!owed) return;
      all.owed.set(fill.drum, owed);
      all.changed.add(`owed ${fill.drum}`);
    },
  };
}

function show(all: Fills, of: Following, ctx: Context): void {
  const { place, record, said } = of;
  const { id } = place.drum;
  const running = runningFill(of);
  if (running) ctx.put(fillCell, id, running);
  const shown = ctx.get(inflowCell, id);
  if (shown !== record.inflow) ctx.put(inflowCell, id, record.inflow);
  showLearned(all, id, ctx);
  const failed = record.guard.stopFailed;
  const pours = record.open ? (record.open.stoppedAtMs === null ? record.inflow.flowing : false) : false;
  const guard = followGuard(record.guard, factsOf(of), pours);
  markDoubted(record, guard);
  record.atMs = said.atMs;
  all.changed.add(`drum ${id}`);
  const caughtUpMs = ctx.nowMs + backlogMs;
  if (all.isLate && record.open) record.open.awaitsMs = caughtUpMs;
  const dueMs = record.open && toldAtMs(record.open);
  if (all.isLate) {
    // What speaks against a stop is told of now alone, or where it still stands once what waited has come.
    const standsMs = guard.notStopping?.attention === "wake" ? (all.standsMs.get(id) ?? caughtUpMs) : null;
    if (standsMs === null) all.standsMs.delete(id);
    else all.standsMs.set(id, standsMs);
    ctx.wakeAt(id, standsMs ?? dueMs);
    return;
  }
  all.standsMs.delete(id);
  const isNew = !isSameMatter(guard, ctx.get(guardCell, id));
  ctx.put(guardCell, id, guard);
  if (isNew) ctx.tell({ kind: "guard", drum: id, guard });
  if (running && guard.notStopping?.attention === "wake" && failed?.attention !== "wake") {
    const now = runningFill(of);
    if (now) of.tell(now);
  }
  ctx.wakeAt(id, dueMs);
}

function follow(all: Fills, place: DrumPlace, said: DrumWitnesses, ctx: Context): void {
  takeUp(all, place.drum.id, said.atMs);
  takeMoved(recordOf(all, place.drum.id), said);
  const of = followingOf(all, place, said, ctx);
  followFill(of);
  show(all, of, ctx);
}

function look(all: Fills, ctx: Context): void {
  for (const place of all.places.values()) {
    const said = ctx.get(witnessCell, place.drum.id);
    if (!said || all.seen.get(place.drum.id) === said) continue;
    all.seen.set(place.drum.id, said);
    follow(all, place, said, ctx);
  }
  const { kappas } = all;
  if (kappas.length > 0) {
    all.kappas = [];
    for (const kappa of kappas) takeKappa(all, kappa, ctx);
  }
  all.isLate = false;
}

/** What a person says of a drum whose stop had failed. */
function afterFailure(all: Fills, given: Act, nowMs: number): void {
  const drum =
    given.type === "supply-closed" ? given.drum : given.type === "reset" ? drumOfReset(all, given.key) : null;
  const record = drum === null ? undefined : all.records.get(drum);
  if (!record) return;
  if (given.type === "supply-closed") Object.assign(record.guard, { isClosed: true, closedAtMs: nowMs });
  else if (given.type === "reset" && given.float) afterReset(record, given.float);
  all.changed.add(`drum ${drum}`);
}

function act(all: Fills, { act: given }: Acted, ctx: Context): void {
  afterFailure(all, given, ctx.nowMs);
  if (given.type === "release") {
    const record = recordOf(all, given.drum);
    record.over = notOver();
    delete record.late;
    record.answeredMs = ctx.nowMs;
    if (given.reason === "dumped") record.isEmptied = true;
    all.changed.add(`drum ${given.drum}`);
    return;
  }
  if (given.type !== "fill-stopped") return;
  const place = all.places.get(given.drum);
  const said = ctx.get(witnessCell, given.drum);
  const record = recordOf(all, given.drum);
  if (!place || !said || !record.open) return;
  record.open.byPerson = true;
  all.seen.set(given.drum, said);
  const of = followingOf(all, place, said, ctx);
  followFill(of);
  // A person who says that it is over is believed at once, unless something better saw water run.
  if (record.open && record.inflow.flowing !== true) {
    record.open.stoppedAtMs ??= ctx.nowMs;
    closeFill(of);
  }
  show(all, of, ctx);
}

function refusalOf(all: Fills, given: Act, ctx: Pick<Context, "get">): ActRefused | null {
  if (given.type !== "fill-stopped" || all.records.get(given.drum)?.open) return null;
  // Where a meter tells, no fill begins until water runs: who said so by mistake takes it back.
  if (ctx.get(witnessCell, given.drum)?.person?.flowing) return null;
  return { code: "not-possible-in-state", message: say("no-fill-runs") };
}

function useLine(all: Fills, line: Line, was: Line | null, ctx: Context): void {
  for (const { drum, float } of rewiredFloats(line, was)) {
    const record = float.role === "stop" ? all.records.get(drum.id) : undefined;
    if (record) Object.assign(record, { stopWet: null, call: null, floatBeganMs: null });
  }
  all.places = placesOf(line);
  all.seenAt = Map.groupBy(all.places.values(), ({ seenAt }) => seenAt);
  for (const cell of [inflowCell, fillCell, guardCell, learnedCell])
    for (const [drum] of [...ctx.entries(cell as typeof fillCell)])
      if (!all.places.has(drum)) ctx.put(cell as typeof fillCell, drum, undefined);
  for (const [drum, { learned }] of all.records)
    if (all.places.has(drum)) takeSaidTrip(learned, saidTripL(all.places.get(drum)));
    else {
      all.records.delete(drum);
      all.shownChanges.delete(drum);
      all.owed.delete(drum);
      all.changed.add(`drum ${drum}`).add(`owed ${drum}`);
      ctx.wakeAt(drum, null);
    }
}

/** Fills of every drum with how they ended, what came in, and what speaks against the drum's stop. */
export function createFillsStage(): Stage<Heard, Fill | GuardChange> {
  const all: Fills = {
    places: new Map(),
    seenAt: new Map(),
    records: new Map(),
    traces: new Map(),
    feeds: new Map(),
    pasts: new Map(),
    owed: new Map(),
    lateKappaMs: new Map(),
    interrupted: new Map(),
    seen: new Map(),
    changed: new Set(),
    shownChanges: new Map(),
    changedTraces: new Set(),
    isLate: false,
    standsMs: new Map(),
    kappas: [],
  };
  return {
    name: "fills",
    version: 3,
    owns: [inflowCell, fillCell, guardCell, learnedCell, feedCell],
    reads: [latestCell, proofCell, witnessCell, runCell, probeCell],
    acts: ["fill-stopped", "supply-closed"],
    hears: {
      current: (event) => hearKappa(all, event),
      late: (event) => hearKappa(all, event),
      measurement: (one) => hearKappa(all, one),
      gone() {},
      start() {},
      act: (event, ctx) => act(all, event, ctx),
    },
    useLine: (line, was, ctx) => useLine(all, line, was, ctx),
    admit: (given, ctx) => refusalOf(all, given, ctx),
    wake(drum, ctx) {
      const place = all.places.get(drum);
      const said = ctx.get(witnessCell, drum);
      const open = all.records.get(drum)?.open;
      if (!place || !said) return;
      const of = followingOf(all, place, said, ctx);
      const dueMs = open ? toldAtMs(open) : null;
      if (dueMs !== null && dueMs <= ctx.nowMs) closeFill(of);
      show(all, of, ctx);
    },
    afterStep: (ctx) => look(all, ctx),
    *dirty() {
      for (const key of all.changed) {
        const space = key.indexOf(" ");
        yield [key, mapsOf(all)[key.slice(0, space)]?.get(key.slice(space + 1))] as const;
      }
      all.changed.clear();
      for (const point of all.changedTraces)
        yield [`trace ${point}`, keptOf(all.traces.get(point) ?? [])] as const;
      all.changedTraces.clear();
    },
    load(rows, fromVersion, ctx) {
      if (fromVersion !== 2 && fromVersion !== 3) return false;
      for (const [key, plain] of structuredClone(new Map(rows))) {
        const space = key.indexOf(" ");
        mapsOf(all)[key.slice(0, space)]?.set(key.slice(space + 1), plain);
      }
      // Reasons were sentences once.
      for (const { open } of all.records.values())
        if (open)
          open.reasons = open.reasons.map((one: Reason | string) =>
            typeof one === "string" ? readReason(one) : one,
          );
      if (fromVersion < 3) for (const [drum, record] of all.records) all.records.set(drum, completed(record));
      for (const [drum, { open }] of all.records) ctx.wakeAt(drum, open ? toldAtMs(open) : null);
      return true;
    },
    seed: (records, ctx) => seedFills(all, records, ctx),
  };
}
