import { createSimulatedDraws, type DrawHabits } from "./drum-draws.ts";
import { type FaultsFrom, isFaultNow } from "./drum-faults.ts";
import { createSimulatedFloat } from "./drum-float.ts";

/** Litres of a simulated drum up to the edge over which it runs. */
const drumVolumeL = 200;
const usualFlowLPerMin = 4;
const leakLPerMin = 0.3;
/** What passes good resin, uS/cm at 25 °C, and what has stood in it for 15 min. */
const kappaOfResin = 0.3;
const kappaLeached = 5;
const leachedL = 1.5;
const stoodS = 15 * 60;
const feed25 = 400;
const overflowRisesL = 0.97 * drumVolumeL;

/** One inflow as it really was, s and litres. */
interface TrueFill {
  readonly startS: number;
  readonly endS: number;
  readonly litres: number;
}

interface DrumModelOptions {
  readonly random: () => number;
  readonly faultsFrom: FaultsFrom;
  readonly draws: DrawHabits;
}

/**
 * A drum of 200 L that fills by itself at 4 L/min, lived through second by second: its true litres and κ25,
 * ideally mixed. Pure and seeded by its `random`; it knows nothing of how fills are judged.
 */
export function createDrumModel({ random, faultsFrom, draws }: DrumModelOptions) {
  const drum = { nowS: 0, litres: 175, kappa25: 0.5, flowLPerMin: 0, inflow25: kappaOfResin, floorL: 0 };
  const fills: TrueFill[] = [];
  const float = createSimulatedFloat(faultsFrom, random, drum.litres);
  const drawn = createSimulatedDraws(draws, random);
  let open: { startS: number; litres: number } | null = null;
  let standsSinceS = 0;
  let runL = 0;
  let throughL = 0;
  let pressure = 1;
  let pressureUntilS = 0;

  function flow(): number {
    const { nowS } = drum;
    if (isFaultNow(faultsFrom, "pressure-swings", nowS) && nowS >= pressureUntilS) {
      pressure = 1 - (0.2 + 0.4 * random());
      pressureUntilS = nowS + 900 + 2700 * random();
    }
    const passes = isFaultNow(faultsFrom, "valve-passes", nowS) && drum.flowLPerMin > 0;
    if (!float.isWet() || passes) return usualFlowLPerMin * pressure;
    return isFaultNow(faultsFrom, "valve-leaks", nowS) ? leakLPerMin : 0;
  }

  function follow(inL: number): void {
    const { nowS } = drum;
    const fillsNow = drum.flowLPerMin > leakLPerMin;
    if (fillsNow) {
      open ??= { startS: nowS, litres: 0 };
      open.litres += inL;
    } else if (open) {
      fills.push({ ...open, endS: nowS });
      open = null;
    }
    if (inL > 0) {
      if (nowS - standsSinceS > stoodS) runL = 0;
      standsSinceS = nowS;
      runL += inL;
    }
    const isSpent = isFaultNow(faultsFrom, "resin-spent", nowS);
    if (isSpent) throughL += inL;
    const share = isSpent ? 0.5 / (1 + Math.exp((100 - throughL) / 15)) : 0;
    drum.inflow25 = kappaOfResin + kappaLeached * Math.exp(-runL / leachedL) + share * feed25;
  }

  return {
    drum: drum as Readonly<typeof drum>,
    fills: fills as readonly TrueFill[],
    /** Litres of the inflow that runs now; null: none. */
    runningL: (): number | null => open?.litres ?? null,
    stopWet: () => float.isWet(),
    overflowWet: () => drum.litres >= overflowRisesL,
    feed25,
    /** Goes on by one second. */
    step(): void {
      float.step(drum.litres, drum.nowS);
      drum.flowLPerMin = flow();
      const inL = drum.flowLPerMin / 60;
      follow(inL);
      drum.kappa25 = (drum.kappa25 * drum.litres + drum.inflow25 * inL) / (drum.litres + inL);
      drum.litres = Math.max(1, drum.litres + inL - drawn.flow(drum.nowS) / 60);
      if (drum.litres > drumVolumeL) {
        drum.floorL += drum.litres - drumVolumeL;
        drum.litres = drumVolumeL;
      }
      drum.nowS += 1;
    },
  };
}

export type DrumModel = ReturnType<typeof createDrumModel>;
