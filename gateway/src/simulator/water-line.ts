import { naturalAt, pureAt } from "../water/index.ts";
import { createHouseDrum } from "./house-drum.ts";
import { createMembrane, createResinBed } from "./house-media.ts";

const dayMs = 86_400_000;

/** What a simulated line is made of. */
export interface SimulatedLineOptions {
  readonly startMs: number;
  readonly random: () => number;
  /** Capacity of the resin bed, milliequivalents. */
  readonly capacityMeq: number;
  /** Begins of the nights in which the mix drum's float hangs, epoch ms. */
  readonly stuckNights: readonly number[];
  /** A membrane stands before the resin. */
  readonly membrane: boolean;
}

/** Drums of the house. */
export const houseDrums = ["fresh", "mix", "topUp"] as const;
/** A drum of the simulated house, as it is now. */
export type HouseDrum = (typeof houseDrums)[number];

const nightMs = 6 * 3_600_000;
const bucketEveryMin = 18;
/** How fast water comes where its way is open, L/min. A membrane makes less. */
const flows = {
  plain: { fresh: 4.6, mix: 2.6, topUp: 1.8 },
  membrane: { fresh: 4.6, mix: 0.9, topUp: 0.7 },
} as const;
/** Fresh water and salt water for changes, a little pure water for what has dried up: shares of a bucket's litres. */
const drawnShare = { fresh: 1, mix: 1.1, topUp: 0.09 } as const;
/** What sediment filter and carbon add to the supply's conductivity. */
const carbonTimes = 1.01;

/** A line that behaves like water: drifting supply, resin that is spent by equivalents, first water, draws, floats. */
export function createWaterLine(options: SimulatedLineOptions) {
  const { startMs, random, capacityMeq, stuckNights } = options;
  const line = { tMs: startMs, supply25UsPerCm: 405, temperatureC: 16 };
  const float = { capacityL: 200, risesL: 169, fallsL: 120 };
  const drums = {
    // Drawn down from its trip, and not yet to its release: it does not call.
    fresh: createHouseDrum({ ...float, litres: 150, floatUp: true }),
    mix: createHouseDrum({ ...float, litres: 40, floatUp: false }),
    topUp: createHouseDrum({ capacityL: 60, risesL: 50, fallsL: 30, litres: 38, floatUp: true }),
  };
  const { fresh, mix, topUp } = drums;
  const resin = createResinBed(capacityMeq, random);
  const membrane = options.membrane ? createMembrane(random) : null;
  const flow = options.membrane ? flows.membrane : flows.plain;

  function supply(): void {
    const day = line.tMs / dayMs;
    line.supply25UsPerCm =
      405 + 14 * Math.sin(2 * Math.PI * day) + 9 * Math.sin((2 * Math.PI * day) / 5.3) + (random() - 0.5) * 2;
    line.temperatureC = 15.5 + 1.6 * Math.sin(2 * Math.PI * (day - 0.3)) + (random() - 0.5) * 0.05;
  }

  function media(minutes: number): void {
    const litres = (mix.drum.flowLPerMin + topUp.drum.flowLPerMin) * minutes;
    const carbon25 = line.supply25UsPerCm * carbonTimes;
    membrane?.pass({ litres, minutes, feed25UsPerCm: carbon25 });
    resin.pass({ litres, minutes, feed25UsPerCm: membrane?.membrane.after25UsPerCm ?? carbon25 });
  }

  /** Drawn by day for water changes, a bucket each 18 min. */
  function draws(hour: number, minutes: number): void {
    const bucket = (line.tMs / 60_000) % bucketEveryMin < 1 ? bucketEveryMin : 0;
    const drawL = bucket * (hour >= 9 && hour < 12 ? 0.55 : hour >= 15 && hour < 16 ? 0.4 : 0) * minutes;
    if (drawL > 0) for (const name of houseDrums) drums[name].draw(drawL * drawnShare[name]);
  }

  return {
    line: line as Readonly<typeof line>,
    drums,
    /** Load that the resin has taken, milliequivalents. */
    loadMeq: () => resin.bed.loadMeq,
    /** Goes on by `dtMs`; steps of at most 30 s keep the fills right. */
    step(dtMs: number): void {
      line.tMs += dtMs;
      const minutes = dtMs / 60_000;
      // UTC
      const hour = (line.tMs / 3_600_000) % 24;
      const isIn = (beginMs: number) => line.tMs >= beginMs && line.tMs < beginMs + nightMs;
      supply();
      draws(hour, minutes);
      mix.drum.stuck ||= stuckNights.some(isIn) && mix.drum.calling && mix.drum.litres < 100;
      fresh.fill({ wanted: true, flowLPerMin: flow.fresh, minutes }, random);
      // Salt water is made at night.
      mix.fill({ wanted: hour >= 22 || hour < 4, flowLPerMin: flow.mix, minutes }, random);
      topUp.fill({ wanted: true, flowLPerMin: flow.topUp, minutes }, random);
      media(minutes);
    },
    /** Begins a fill of the mix drum now, drawing it down first so that it has room (a person at the tap). */
    callMix(): void {
      mix.drum.litres = Math.min(mix.drum.litres, 60);
      if (mix.drum.floatUp) mix.drum.floatChanges += 1;
      mix.drum.floatUp = false;
      mix.drum.calling = true;
    },
    /** Conductivities at the water's own temperature, as probes see them, uS/cm; null: no such probe. */
    probes() {
      const { supply25UsPerCm: supply25, temperatureC } = line;
      return {
        supply: naturalAt(supply25, temperatureC),
        afterSediment: naturalAt(supply25, temperatureC),
        afterCarbon: naturalAt(supply25 * carbonTimes, temperatureC),
        afterMembrane: membrane && pureAt(membrane.membrane.after25UsPerCm, temperatureC),
        afterResin: pureAt(resin.bed.after25UsPerCm, temperatureC),
      };
    },
  };
}

/** The simulated line: supply, stages, drums. */
export type WaterLine = ReturnType<typeof createWaterLine>;
