import { type DrumWitnesses, fillCell, inflowCell, witnessCell } from "../fills/index.ts";
import type { Drum, Line } from "../line/index.ts";
import type { CurrentMeasurement } from "../measurements/index.ts";
import { defineCell, type PathEvent, type Stage, type StageContext } from "../path/index.ts";
import { type LevelMean, recent, type StillDrift, sinceLastStep, stillDrift } from "./leak.ts";

/** How fast a drum's level moves while nothing comes in and nothing is drawn, by the drum's id. */
export const driftCell = defineCell<StillDrift>("drift");

/** A drum's drift was read anew, or is not known any more. */
export interface DriftRead extends PathEvent {
  readonly kind: "drift";
  readonly drum: string;
}

interface Reading {
  means: LevelMean[];
  open: { fromMs: number; lastMs: number; sumL: number; readings: number } | null;
}

const meanMs = 5 * 60_000;
/** Means further apart have something between them that nobody saw. */
const maxApartMs = 3 * meanMs;
const leastStepShare = 0.004;

/** What is remembered of all drums. */
interface Drifts {
  drums: ReadonlyMap<string, Drum>;
  readings: Map<string, Reading>;
  /** Drums of which something came in this step. */
  readonly touched: Set<string>;
  /** Drums whose row of the checkpoint is old. */
  readonly changed: Set<string>;
}

type Context = StageContext<DriftRead>;

function begin(all: Drifts, drum: string, ctx: Context): void {
  const reading = all.readings.get(drum);
  if (!reading || (reading.means.length === 0 && reading.open === null)) return;
  all.readings.set(drum, { means: [], open: null });
  all.changed.add(drum);
  if (ctx.get(driftCell, drum) === undefined) return;
  ctx.put(driftCell, drum, undefined);
  ctx.tell({ kind: "drift", drum });
}

function close(drum: Drum, reading: Reading, sigmaL: number, ctx: Context): void {
  const { open } = reading;
  if (!open) return;
  const mean = { tMs: open.lastMs, litres: open.sumL / open.readings, readings: open.readings };
  const before = reading.means.at(-1);
  const goesOn = before === undefined || mean.tMs - before.tMs <= maxApartMs;
  const means = goesOn ? [...reading.means, mean] : [mean];
  reading.means = sinceLastStep(recent(means), leastStepShare * drum.volumeL, sigmaL);
  reading.open = null;
  ctx.put(driftCell, drum.id, stillDrift(reading.means) ?? undefined);
  ctx.tell({ kind: "drift", drum: drum.id });
}

function isAtRest(drum: Drum, said: DrumWitnesses, ctx: Context): boolean {
  const isFilling = ctx.get(fillCell, drum.id)?.endedAtMs === null;
  const flows = ctx.get(inflowCell, drum.id)?.flowing === true && said.level?.flowing === true;
  const calls = drum.control === "automatic" && said.stop?.wet === false;
  return !isFilling && !flows && !calls;
}

function follow(all: Drifts, drum: Drum, ctx: Context): void {
  const said = ctx.get(witnessCell, drum.id);
  const level = said?.level;
  if (!said || !level || level.lastL === null || level.lastMs === null) return;
  if (!isAtRest(drum, said, ctx) || level.isLost) {
    begin(all, drum.id, ctx);
    return;
  }
  const reading = all.readings.get(drum.id) ?? { means: [], open: null };
  all.readings.set(drum.id, reading);
  const { open } = reading;
  if (open && level.lastMs <= open.lastMs) return;
  if (open && level.lastMs - open.fromMs >= meanMs) close(drum, reading, level.sigmaL, ctx);
  const now = reading.open ?? { fromMs: level.lastMs, lastMs: level.lastMs, sumL: 0, readings: 0 };
  reading.open = {
    fromMs: now.fromMs,
    lastMs: level.lastMs,
    sumL: now.sumL + level.lastL,
    readings: now.readings + 1,
  };
  all.changed.add(drum.id);
}

/** Reads each drum's level at rest: the leak test of a quiet time. */
export function createDriftStage(): Stage<CurrentMeasurement, DriftRead> {
  const all: Drifts = { drums: new Map(), readings: new Map(), touched: new Set(), changed: new Set() };
  const { touched, changed } = all;
  return {
    name: "drift",
    version: 1,
    owns: [driftCell],
    reads: [witnessCell, inflowCell, fillCell],
    hears: {
      current({ measurement: { subject } }) {
        if (subject.kind === "drum") touched.add(subject.id);
      },
    },
    useLine(line: Line, _was, ctx) {
      all.drums = new Map(line.drums.filter(({ level }) => level).map((drum) => [drum.id, drum]));
      for (const id of all.readings.keys())
        if (!all.drums.has(id)) {
          begin(all, id, ctx);
          all.readings.delete(id);
        }
    },
    afterStep(ctx) {
      if (touched.size === 0) return;
      for (const id of touched) {
        const drum = all.drums.get(id);
        if (drum) follow(all, drum, ctx);
      }
      touched.clear();
    },
    *dirty() {
      for (const drum of changed) yield [drum, all.readings.get(drum)] as const;
      changed.clear();
    },
    load(rows, fromVersion) {
      all.readings = structuredClone(new Map(rows)) as Map<string, Reading>;
      return fromVersion <= 1;
    },
  };
}
