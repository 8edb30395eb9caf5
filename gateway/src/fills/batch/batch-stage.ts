import type { Act, BatchStep, ReleaseDrum } from "../../acts/index.ts";
import type { Drum, Line } from "../../line/index.ts";
import type { CurrentMeasurement, Measurement } from "../../measurements/index.ts";
import type { PathEvent, Records, Stage, StageContext } from "../../path/index.ts";
import { batchCell, fillCell, witnessCell } from "../cells.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { type Batch, type BatchNow, newBatch } from "./batch.ts";
import { batchRefusal, takeStep } from "./batch-acts.ts";
import { bandOf } from "./batch-limits.ts";
import { followBatch, followSalinity } from "./follow-batch.ts";
import { type Band, waitsOf } from "./readiness.ts";

type Context = StageContext<Batch>;
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };
type Heard = CurrentMeasurement | Fill | Acted | (PathEvent & { readonly kind: "gone" | "start" });

interface SaltDrum {
  readonly drum: Drum;
  readonly band: Band;
  readonly isProbed: boolean;
}

interface Batches {
  titles: ReadonlyMap<string, string>;
  drums: ReadonlyMap<string, SaltDrum>;
  now: Map<string, BatchNow>;
  readonly seen: Map<string, DrumWitnesses>;
  readonly changed: Set<string>;
}

function batchOf(all: Batches, drum: string, nowMs: number): BatchNow {
  let now = all.now.get(drum);
  if (!now) {
    now = newBatch("unknown", nowMs);
    all.now.set(drum, now);
  }
  return now;
}

function viewOf({ drum, band, isProbed }: SaltDrum, now: BatchNow, nowMs: number): Batch {
  const { state, sinceMs, salt, salinity, salinityBy, cameInL, inflow } = now;
  const isMixed = state === "salted" || state === "mixing";
  const isJudged = state === "ready" || state === "in-use";
  return {
    kind: "batch",
    id: `${drum.id}@${now.beganMs}`,
    drum: drum.id,
    state,
    sinceMs,
    salt: [...salt],
    salinity: salinity === null ? null : Math.round(salinity * 10) / 10,
    salinityBy,
    waits: isMixed ? waitsOf(now, band, { nowMs, isProbed }) : [],
    isOff: isJudged && now.isOff,
    cameInL: Math.round(cameInL),
    intruding: inflow?.isTold ? { sinceMs: inflow.sinceMs, litres: inflow.litres } : null,
    atMs: nowMs,
  };
}

/** What is told anew when it changes; figures alone are only shown. */
const turnOf = ({ id, state, sinceMs, salt, isOff, intruding }: Batch) =>
  [id, state, sinceMs, salt.length, isOff, intruding !== null].join();

const isSameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && (a.length === 0 || JSON.stringify(a) === JSON.stringify(b));

/** Whether nothing of it has changed but the time. */
const isAsBefore = (a: Batch, b: Batch): boolean =>
  a.id === b.id &&
  a.state === b.state &&
  a.sinceMs === b.sinceMs &&
  a.salinity === b.salinity &&
  a.salinityBy === b.salinityBy &&
  a.isOff === b.isOff &&
  a.cameInL === b.cameInL &&
  a.intruding?.sinceMs === b.intruding?.sinceMs &&
  a.intruding?.litres === b.intruding?.litres &&
  isSameList(a.salt, b.salt) &&
  isSameList(a.waits, b.waits);

function show(all: Batches, drum: string, nowMs: number, ctx: Context): void {
  const place = all.drums.get(drum);
  const now = all.now.get(drum);
  if (!place || !now) return;
  const was = ctx.get(batchCell, drum);
  const batch = viewOf(place, now, nowMs);
  all.changed.add(drum);
  if (was && isAsBefore(was, batch)) return;
  ctx.put(batchCell, drum, batch);
  if (!was || turnOf(was) !== turnOf(batch)) ctx.tell(batch);
}

const isUsable = ({ value, flag }: Measurement) => value !== null && (flag === 1 || flag === 2);

function take(all: Batches, { measurement }: CurrentMeasurement, ctx: Context): void {
  const { subject, quantity, value, tMs } = measurement;
  if (subject.kind !== "drum" || !isUsable(measurement)) return;
  const place = all.drums.get(subject.id);
  if (!place || (quantity !== "salinity" && quantity !== "conductivity25")) return;
  // Water too thin for a salinity: the probe says that it is fresh.
  const isFresh = quantity === "conductivity25" && (value as number) < 1000;
  if (quantity === "conductivity25" && !isFresh) return;
  const now = batchOf(all, subject.id, tMs);
  followSalinity(now, place.band, isFresh ? 0 : (value as number), tMs);
  show(all, subject.id, tMs, ctx);
}

/** That a drum was emptied begins a batch; that it was not after all takes that back. */
function empty(all: Batches, { drum, reason }: ReleaseDrum, nowMs: number): void {
  const before = batchOf(all, drum, nowMs);
  if (reason !== "dumped") {
    before.undo = null;
    return;
  }
  const { undo, ...kept } = structuredClone(before);
  // Said twice, it was emptied once.
  const isAgain = undo !== null && before.state === "empty";
  all.now.set(drum, { ...newBatch("empty", nowMs), undo: isAgain ? undo : kept });
}

function act(all: Batches, given: Act, ctx: Context): void {
  if (given.type !== "batch" && given.type !== "release" && given.type !== "release-undo") return;
  const { drum } = given;
  if (!all.drums.has(drum)) return;
  const now = batchOf(all, drum, ctx.nowMs);
  if (given.type === "batch") takeStep(now, given as BatchStep, ctx.nowMs);
  else if (given.type === "release") empty(all, given, ctx.nowMs);
  else if (now.undo) all.now.set(drum, { ...now.undo, undo: null });
  show(all, drum, ctx.nowMs, ctx);
}

function useLine(all: Batches, line: Line, ctx: Context): void {
  all.titles = new Map(line.drums.map(({ id, title }) => [id, title]));
  all.drums = new Map(
    line.drums
      .filter(({ holds }) => holds === "salt")
      .map((drum) => [drum.id, { drum, band: bandOf(line, drum), isProbed: drum.conductivity !== null }]),
  );
  for (const drum of [...all.now.keys()])
    if (!all.drums.has(drum)) {
      all.now.delete(drum);
      all.changed.add(drum);
      ctx.put(batchCell, drum, undefined);
    }
}

function seed(all: Batches, records: Records, ctx: Context): void {
  for (const batch of records.last("batch") as Batch[]) {
    const place = all.drums.get(batch.drum);
    if (!place) continue;
    const lastSaltMs = batch.salt.at(-1)?.atMs ?? 0;
    all.now.set(batch.drum, {
      ...newBatch(batch.state, batch.sinceMs),
      beganMs: Number(batch.id.slice(batch.id.lastIndexOf("@") + 1)),
      salt: [...batch.salt],
      salinity: batch.salinity,
      salinityBy: batch.salinityBy,
      cameInL: batch.cameInL,
      addedMs: lastSaltMs,
    });
    ctx.put(batchCell, batch.drum, batch);
    all.changed.add(batch.drum);
  }
}

/** A level by pressure alone says that a fill runs, and nothing asked for it: it may be the salt that is entered late. */
function maySaltRise(drum: Drum, { basis }: Fill, said: DrumWitnesses | undefined): boolean {
  const calls = drum.control === "automatic" ? said?.stop?.wet === false : said?.person?.flowing === true;
  return drum.level?.as === "pressure" && basis === "level" && said?.inlet?.flowing !== true && !calls;
}

/** Batches of salt water: where each drum for salt stands between empty and empty. */
export function createBatchStage(): Stage<Heard, Batch> {
  const all: Batches = {
    titles: new Map(),
    drums: new Map(),
    now: new Map(),
    seen: new Map(),
    changed: new Set(),
  };
  return {
    name: "batches",
    version: 1,
    owns: [batchCell],
    reads: [witnessCell, fillCell],
    acts: ["batch", "fill-started"],
    hears: {
      current: (event, ctx) => take(all, event, ctx),
      act: ({ act: given }, ctx) => act(all, given, ctx),
      fill: ({ drum }) => void all.seen.delete(drum),
      gone() {},
      start() {},
    },
    useLine: (line, _was, ctx) => useLine(all, line, ctx),
    admit(given, ctx) {
      if (!("drum" in given)) return null;
      const place = all.drums.get(given.drum);
      const fill = ctx.get(fillCell, given.drum);
      return batchRefusal(given, {
        title: all.titles.get(given.drum) ?? given.drum,
        holdsSalt: place !== undefined,
        now: all.now.get(given.drum),
        band: place?.band ?? null,
        isFilling:
          fill !== undefined &&
          fill.endedAtMs === null &&
          !(place && maySaltRise(place.drum, fill, ctx.get(witnessCell, given.drum))),
        nowMs: ctx.nowMs,
      });
    },
    afterStep(ctx) {
      for (const [drum, place] of all.drums) {
        const said = ctx.get(witnessCell, drum);
        if (!said || all.seen.get(drum) === said) continue;
        all.seen.set(drum, said);
        const fill = ctx.get(fillCell, drum) ?? null;
        followBatch(batchOf(all, drum, said.atMs), { ...place, said, fill, nowMs: said.atMs });
        show(all, drum, said.atMs, ctx);
      }
    },
    *dirty() {
      for (const drum of all.changed) yield [drum, all.now.get(drum)] as const;
      all.changed.clear();
    },
    load(rows) {
      all.now = structuredClone(new Map(rows)) as Map<string, BatchNow>;
      return true;
    },
    seed: (records, ctx) => seed(all, records, ctx),
  };
}
