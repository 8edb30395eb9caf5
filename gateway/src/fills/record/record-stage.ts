import type { Act, ActRefused } from "../../acts/index.ts";
import type { Line } from "../../line/index.ts";
import {
  type CurrentMeasurement,
  type Gone,
  latestCell,
  type Measurement,
  seriesOf,
} from "../../measurements/index.ts";
import type { PathEvent, Records, Stage, StageContext } from "../../path/index.ts";
import { feedCell, fillCell, guardCell, inflowCell, learnedCell, runCell, witnessCell } from "../cells.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { followGuard } from "../guard/follow-guard.ts";
import { type GuardChange, isSameMatter } from "../guard/guard.ts";
import { learn } from "../learned.ts";
import type { Seeing } from "./book-inflow.ts";
import { type DrumPlace, type DrumRecord, newDrumRecord } from "./drum-record.ts";
import { type FeedTrace, feedNow, feedOf, newFeedTrace, takeFeed } from "./feeds.ts";
import { closeFill, type Following, factsOf, followFill, overAtMs, runningFill } from "./follow-fill.ts";
import { type KappaTrace, remember, witnessed } from "./kappa-trace.ts";
import { isOver, notOver, pauseJudging } from "./over-limit.ts";
import { placesOf } from "./places.ts";

type Context = StageContext<Fill | GuardChange>;
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };
type Heard = CurrentMeasurement | Gone | Acted | (PathEvent & { readonly kind: "start" });

const membraneShare = 0.1;
const leastMembraneLimit = 5;

interface Fills {
  places: ReadonlyMap<string, DrumPlace>;
  /** Drums whose water is seen at a point, by the point. */
  seenAt: ReadonlyMap<string, readonly DrumPlace[]>;
  records: Map<string, DrumRecord>;
  traces: Map<string, KappaTrace>;
  feeds: Map<string, FeedTrace>;
  readonly seen: Map<string, DrumWitnesses>;
  readonly changed: Set<string>;
  /** Readings of quality of this step. */
  kappas: Measurement[];
}

function recordOf(all: Fills, drum: string): DrumRecord {
  let record = all.records.get(drum);
  if (!record) {
    record = newDrumRecord();
    all.records.set(drum, record);
  }
  return record;
}

/** Above it the water is bad; behind a membrane alone a tenth of what it is fed with. Null where nothing is judged. */
function limitOf(all: Fills, place: DrumPlace): number | null {
  if (!place.isBehindMembrane || place.limit25 !== null || place.feedAt === null) return place.limit25;
  const feed = feedOf(all.feeds.get(place.feedAt) ?? newFeedTrace());
  return feed ? Math.max(leastMembraneLimit, membraneShare * feed.median25) : null;
}

function seeingOf(all: Fills, place: DrumPlace, ctx: Context): Seeing {
  const limit = limitOf(all, place);
  return {
    trace: all.traces.get(place.seenAt) ?? [],
    isGood: (kappa25) => limit === null || kappa25 <= limit,
    isFirst: ctx.get(runCell, place.seenAt)?.settled === false,
  };
}

function followingOf(all: Fills, place: DrumPlace, said: DrumWitnesses, ctx: Context): Following {
  return {
    place,
    record: recordOf(all, place.drum.id),
    said,
    seeing: seeingOf(all, place, ctx),
    tell(fill) {
      ctx.put(fillCell, fill.drum, fill);
      ctx.tell(fill);
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
  if (
    ctx.get(learnedCell, id) === undefined ||
    (record.open === null && record.lastEndMs > record.atMs - 60_000)
  )
    ctx.put(learnedCell, id, structuredClone(record.learned));
  const failed = record.guard.stopFailed;
  const pours = record.open ? (record.open.stoppedAtMs === null ? record.inflow.flowing : false) : false;
  const guard = followGuard(record.guard, factsOf(of), pours);
  const isNew = !isSameMatter(guard, ctx.get(guardCell, id));
  ctx.put(guardCell, id, guard);
  if (isNew) ctx.tell({ kind: "guard", drum: id, guard });
  if (running && guard.notStopping?.attention === "wake" && failed?.attention !== "wake") {
    const now = runningFill(of);
    if (now) of.tell(now);
  }
  record.atMs = said.atMs;
  ctx.wakeAt(id, record.open ? overAtMs(record.open) : null);
  all.changed.add(`drum ${id}`);
}

function follow(all: Fills, place: DrumPlace, said: DrumWitnesses, ctx: Context): void {
  const of = followingOf(all, place, said, ctx);
  followFill(of);
  show(all, of, ctx);
}

/** Judges a reading of what flows into a drum; bad water puts its reason into the running fill. */
function judge(all: Fills, place: DrumPlace, kappa25: number | null, tMs: number, ctx: Context): void {
  const record = recordOf(all, place.drum.id);
  const limit25 = limitOf(all, place);
  const { open, over } = record;
  if (!open || record.inflow.flowing !== true || kappa25 === null) {
    pauseJudging(over);
    return;
  }
  const run = ctx.get(runCell, place.seenAt);
  const isSettled = run?.settled !== false;
  if (isSettled) {
    const pair = open.lastSettled25 === null ? null : Math.min(open.lastSettled25, kappa25);
    if (pair !== null) open.peak25 = Math.max(open.peak25 ?? 0, pair);
    open.lastSettled25 = kappa25;
  }
  const feed25 = place.feedAt === null ? null : feedNow(all.feeds.get(place.feedAt), tMs);
  const isFirstWater = !isSettled && run?.afterStandstill === true;
  if (limit25 === null || !isOver(over, { kappa25, limit25, feed25, tMs, isSettled, isFirstWater })) return;
  open.badAtMs = tMs;
  const reason = `water over the limit of ${limit25} µS/cm came in (${place.seenTitle})`;
  if (open.reasons.includes(reason)) return;
  open.reasons.push(reason);
  const said = all.seen.get(place.drum.id);
  const fill = said && runningFill({ place, record, said });
  if (!fill) return;
  ctx.put(fillCell, place.drum.id, fill);
  ctx.tell(fill);
}

function takeKappa(all: Fills, measurement: Measurement, ctx: Context): void {
  const { subject, value, tMs, flag } = measurement;
  const point = subject.id;
  if (value !== null && flag !== 4 && flag !== 9 && value > 0) {
    const feed = all.feeds.get(point) ?? newFeedTrace();
    all.feeds.set(point, feed);
    if (takeFeed(feed, value, tMs)) {
      all.changed.add(`feed ${point}`);
      ctx.put(feedCell, point, feedOf(feed) ?? undefined);
    }
  }
  const drums = all.seenAt.get(point);
  const first = drums?.[0];
  if (!first) return;
  const feed25 = first.feedAt === null ? null : feedNow(all.feeds.get(first.feedAt), tMs);
  const raw = ctx.get(latestCell, seriesOf({ subject, quantity: "conductivity" }))?.measurement;
  const kappa25 = witnessed(measurement, raw?.tMs === tMs ? raw.value : null, feed25);
  const trace = all.traces.get(point) ?? [];
  all.traces.set(point, trace);
  remember(trace, { tMs, kappa25 });
  all.changed.add(`trace ${point}`);
  for (const place of drums) judge(all, place, kappa25, tMs, ctx);
}

function take(all: Fills, { measurement }: CurrentMeasurement): void {
  if (measurement.quantity === "conductivity25" && measurement.subject.kind === "point")
    all.kappas.push(measurement);
}

function look(all: Fills, ctx: Context): void {
  for (const place of all.places.values()) {
    const said = ctx.get(witnessCell, place.drum.id);
    if (!said || all.seen.get(place.drum.id) === said) continue;
    all.seen.set(place.drum.id, said);
    follow(all, place, said, ctx);
  }
  const { kappas } = all;
  all.kappas = [];
  for (const measurement of kappas) takeKappa(all, measurement, ctx);
}

function act(all: Fills, { act: given }: Acted, ctx: Context): void {
  if (given.type === "release") {
    const record = recordOf(all, given.drum);
    record.over = notOver();
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

function refusalOf(all: Fills, given: Act): ActRefused | null {
  if (given.type !== "fill-stopped" || all.records.get(given.drum)?.open) return null;
  return { code: "not-possible-in-state", message: "No fill of this drum is running." };
}

function useLine(all: Fills, line: Line, ctx: Context): void {
  all.places = placesOf(line);
  all.seenAt = Map.groupBy(all.places.values(), ({ seenAt }) => seenAt);
  for (const cell of [inflowCell, fillCell, guardCell, learnedCell])
    for (const [drum] of [...ctx.entries(cell as typeof fillCell)])
      if (!all.places.has(drum)) ctx.put(cell as typeof fillCell, drum, undefined);
  for (const drum of all.records.keys())
    if (!all.places.has(drum)) {
      all.records.delete(drum);
      all.changed.add(`drum ${drum}`);
      ctx.wakeAt(drum, null);
    }
}

const mapsOf = (all: Fills): Readonly<Record<string, Map<string, unknown>>> => ({
  drum: all.records as Map<string, unknown>,
  trace: all.traces as Map<string, unknown>,
  feed: all.feeds as Map<string, unknown>,
});

function seed(all: Fills, records: Records): void {
  for (const fill of records.list("fill", 20) as Fill[]) {
    if (fill.withdrawn || fill.endedAtMs === null || fill.end === "not-stopping" || fill.flowUnknown)
      continue;
    learn(
      recordOf(all, fill.drum).learned,
      fill.end === "float-tripped" ? fill.tripAtL : null,
      fill.estimated ? null : fill.litres,
      fill.endedAtMs - fill.startedAtMs,
    );
    all.changed.add(`drum ${fill.drum}`);
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
    seen: new Map(),
    changed: new Set(),
    kappas: [],
  };
  return {
    name: "fills",
    version: 2,
    owns: [inflowCell, fillCell, guardCell, learnedCell, feedCell],
    reads: [latestCell, witnessCell, runCell],
    acts: ["fill-started", "fill-stopped"],
    hears: {
      current: (event) => take(all, event),
      gone() {},
      start() {},
      act: (event, ctx) => act(all, event, ctx),
    },
    useLine: (line, _was, ctx) => useLine(all, line, ctx),
    admit: (given) => refusalOf(all, given),
    wake(drum, ctx) {
      const place = all.places.get(drum);
      const said = ctx.get(witnessCell, drum);
      const open = all.records.get(drum)?.open;
      if (!place || !said || !open) return;
      const of = followingOf(all, place, said, ctx);
      const dueMs = overAtMs(open);
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
    },
    load(rows, fromVersion, ctx) {
      if (fromVersion !== 2) return false;
      for (const [key, plain] of structuredClone(new Map(rows))) {
        const space = key.indexOf(" ");
        mapsOf(all)[key.slice(0, space)]?.set(key.slice(space + 1), plain);
      }
      for (const [drum, { open }] of all.records) ctx.wakeAt(drum, open ? overAtMs(open) : null);
      return true;
    },
    seed: (records) => seed(all, records),
  };
}
