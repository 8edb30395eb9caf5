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

/** Reads each drum's level at rest: the leak test of a quiet time. */
export function createDriftStage(): Stage<CurrentMeasurement, DriftRead> {
  let drums: ReadonlyMap<string, Drum> = new Map();
  let readings = new Map<string, Reading>();
  const touched = new Set<string>();
  const changed = new Set<string>();

  function begin(drum: string, ctx: StageContext<DriftRead>): void {
    const reading = readings.get(drum);
    if (!reading || (reading.means.length === 0 && reading.open === null)) return;
    readings.set(drum, { means: [], open: null });
    changed.add(drum);
    if (ctx.get(driftCell, drum) === undefined) return;
    ctx.put(driftCell, drum, undefined);
    ctx.tell({ kind: "drift", drum });
  }

  function close(drum: Drum, reading: Reading, sigmaL: number, ctx: StageContext<DriftRead>): void {
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

  function isAtRest(drum: Drum, said: DrumWitnesses, ctx: StageContext<DriftRead>): boolean {
    const isFilling = ctx.get(fillCell, drum.id)?.endedAtMs === null;
    const flows = ctx.get(inflowCell, drum.id)?.flowing === true && said.level?.flowing === true;
    const calls = drum.control === "automatic" && said.stop?.wet === false;
    return !isFilling && !flows && !calls;
  }

  function follow(drum: Drum, ctx: StageContext<DriftRead>): void {
    const said = ctx.get(witnessCell, drum.id);
    const level = said?.level;
    if (!said || !level || level.lastL === null || level.lastMs === null) return;
    if (!isAtRest(drum, said, ctx) || level.isLost) {
      begin(drum.id, ctx);
      return;
    }
    const reading = readings.get(drum.id) ?? { means: [], open: null };
    readings.set(drum.id, reading);
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
    changed.add(drum.id);
  }

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
      drums = new Map(line.drums.filter(({ level }) => level).map((drum) => [drum.id, drum]));
      for (const id of readings.keys())
        if (!drums.has(id)) {
          begin(id, ctx);
          readings.delete(id);
        }
    },
    afterStep(ctx) {
      if (touched.size === 0) return;
      for (const id of touched) {
        const drum = drums.get(id);
        if (drum) follow(drum, ctx);
      }
      touched.clear();
    },
    *dirty() {
      for (const drum of changed) yield [drum, readings.get(drum)] as const;
      changed.clear();
    },
    load(rows, fromVersion) {
      readings = structuredClone(new Map(rows)) as Map<string, Reading>;
      return fromVersion <= 1;
    },
  };
}
