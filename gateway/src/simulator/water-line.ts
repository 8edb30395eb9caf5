import { naturalAt, pureAt } from "../water/index.ts";

const dayMs = 86_400_000;

/** A drum that fills to its float and is drawn from. */
export interface SimulatedDrum {
  litres: number;
  calling: boolean;
  /** The float is up: it rises at 169 L and falls again at 120 L. */
  floatUp: boolean;
  /** The float hangs: it does not trip, and a person ends the fill a little later. */
  stuck: boolean;
  /** How often the float changed over, and litres that came in, since the line began: what its nodes' counters go by. */
  floatChanges: number;
  filledL: number;
}

/** The state of a simulated line. */
interface SimulatedLine {
  tMs: number;
  supply25UsPerCm: number;
  temperatureC: number;
  flowFreshLPerMin: number;
  flowMixLPerMin: number;
  afterResin25UsPerCm: number;
  readonly fresh: SimulatedDrum;
  readonly mix: SimulatedDrum;
  /** Load that the resin has taken, milliequivalents. */
  loadMeq: number;
  stoodMs: number;
  runLitres: number;
}

/** What a simulated line is made of. */
export interface SimulatedLineOptions {
  readonly startMs: number;
  readonly random: () => number;
  /** Capacity of the resin bed, milliequivalents. */
  readonly capacityMeq: number;
  /** Begins of the nights in which the mix drum's float hangs, epoch ms. */
  readonly stuckNights: readonly number[];
}

const nightMs = 6 * 3_600_000;
const bucketEveryMin = 18;
const floatRisesL = 169;
const floatFallsL = 120;

/** Length of the front: the width of the logistic as a share of the capacity (constant pattern). */
const frontShare = 0.035;
/** What good resin lets through; air would add about 1 uS/cm of carbon dioxide, but the water has not met it yet. */
const floor25UsPerCm = 0.3;

/** A line that behaves like water: drifting supply, resin that is spent by equivalents, first water, draws, floats. */
export function createWaterLine({ startMs, random, capacityMeq, stuckNights }: SimulatedLineOptions) {
  const line: SimulatedLine = {
    tMs: startMs,
    supply25UsPerCm: 405,
    temperatureC: 16,
    flowFreshLPerMin: 0,
    flowMixLPerMin: 0,
    afterResin25UsPerCm: 0.5,
    // Drawn down from its trip, and not yet to its release: it does not call.
    fresh: { litres: 150, calling: false, floatUp: true, stuck: false, floatChanges: 0, filledL: 0 },
    mix: { litres: 40, calling: false, floatUp: false, stuck: false, floatChanges: 0, filledL: 0 },
    loadMeq: 0,
    stoodMs: dayMs,
    runLitres: 0,
  };

  function supply(): void {
    const day = line.tMs / dayMs;
    line.supply25UsPerCm =
      405 + 14 * Math.sin(2 * Math.PI * day) + 9 * Math.sin((2 * Math.PI * day) / 5.3) + (random() - 0.5) * 2;
    line.temperatureC = 15.5 + 1.6 * Math.sin(2 * Math.PI * (day - 0.3)) + (random() - 0.5) * 0.05;
  }

  function fill(drum: SimulatedDrum, wanted: boolean, flowLPerMin: number, minutes: number): number {
    const wasUp = drum.floatUp;
    if (wanted && !wasUp) drum.calling = true;
    if (!drum.stuck && drum.litres >= floatRisesL) drum.floatUp = true;
    if (drum.litres <= floatFallsL) drum.floatUp = false;
    // A float that hangs stops nothing: a person comes and closes the tap.
    if (drum.calling && (drum.stuck ? drum.litres >= 186 : drum.floatUp)) {
      drum.calling = false;
      drum.floatUp = !drum.stuck;
      drum.stuck = false;
    }
    const flow = drum.calling ? flowLPerMin * (0.97 + 0.06 * random()) : 0;
    drum.litres += flow * minutes;
    drum.filledL += flow * minutes;
    if (drum.floatUp !== wasUp) drum.floatChanges += 1;
    return flow;
  }

  function resin(minutes: number): void {
    const flow = line.flowMixLPerMin;
    if (flow <= 0) {
      line.stoodMs += minutes * 60_000;
      if (line.stoodMs > 15 * 60_000) line.runLitres = 0;
      return;
    }
    line.stoodMs = 0;
    const litres = flow * minutes;
    line.runLitres += litres;
    // κ25/112 as meq/L lies between the two rules of thumb, κ25/125 and κ25/100.
    line.loadMeq += (line.supply25UsPerCm / 112) * litres;
    const share = 1 / (1 + Math.exp((capacityMeq - line.loadMeq) / (frontShare * capacityMeq)));
    const leached = 14 * Math.exp(-line.runLitres / 1.5);
    line.afterResin25UsPerCm = floor25UsPerCm + line.supply25UsPerCm * share + leached + random() * 0.03;
  }

  return {
    line,
    /** Goes on by `dtMs`; steps of at most 30 s keep the fills right. */
    step(dtMs: number): void {
      line.tMs += dtMs;
      const minutes = dtMs / 60_000;
      const hour = (line.tMs / 3_600_000) % 24;
      const isIn = (beginMs: number) => line.tMs >= beginMs && line.tMs < beginMs + nightMs;
      supply();
      // Drawn by day for water changes, both drums, a bucket each 18 min; made at night (UTC hours).
      const bucket = (line.tMs / 60_000) % bucketEveryMin < 1 ? bucketEveryMin : 0;
      const draw = bucket * (hour >= 9 && hour < 12 ? 0.55 : hour >= 15 && hour < 16 ? 0.4 : 0);
      line.fresh.litres = Math.max(5, line.fresh.litres - draw * minutes);
      line.mix.litres = Math.max(8, line.mix.litres - draw * 1.1 * minutes);
      line.mix.stuck ||= stuckNights.some(isIn) && line.mix.calling && line.mix.litres < 100;
      line.flowFreshLPerMin = fill(line.fresh, line.fresh.litres <= floatFallsL, 4.6, minutes);
      line.flowMixLPerMin = fill(
        line.mix,
        (hour >= 22 || hour < 4) && line.mix.litres <= floatFallsL,
        2.6,
        minutes,
      );
      resin(minutes);
    },
    /** Begins a fill of the mix drum now, drawing it down first so that it has room (a person at the tap). */
    callMix(): void {
      line.mix.litres = Math.min(line.mix.litres, 60);
      if (line.mix.floatUp) line.mix.floatChanges += 1;
      line.mix.floatUp = false;
      line.mix.calling = true;
    },
    /** Conductivities at the water's own temperature, as probes see them, uS/cm. */
    probes(): { readonly supply: number; readonly afterResin: number } {
      return {
        supply: naturalAt(line.supply25UsPerCm, line.temperatureC),
        afterResin: pureAt(line.afterResin25UsPerCm, line.temperatureC),
      };
    },
  };
}

export type WaterLine = ReturnType<typeof createWaterLine>;
