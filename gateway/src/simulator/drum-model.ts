import { createSimulatedDraws, type DrawHabits } from "./drum-draws.ts";
import { type FaultsFrom, isFaultNow } from "./drum-faults.ts";
import type { DrumFeed } from "./drum-feed.ts";
import { createSimulatedFloat } from "./drum-float.ts";
import type { DrumSetting } from "./drum-setting.ts";
import { createSimulatedWay } from "./drum-way.ts";

const overflowRisesShare = 0.97;
/** What is left of a drum's flow while another takes from the same supply. */
const sharedFlow = 0.75;

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
  readonly setting: DrumSetting;
  readonly feed: DrumFeed;
}

/**
 * A drum lived through second by second: its true litres and κ25, ideally mixed. Pure and seeded by its `random`; it
 * knows nothing of how fills are judged.
 */
export function createDrumModel({ random, faultsFrom, draws, setting, feed }: DrumModelOptions) {
  const drum = { nowS: 0, litres: setting.startL, kappa25: feed.water.kappa25, flowLPerMin: 0, floorL: 0 };
  const fills: TrueFill[] = [];
  const float = createSimulatedFloat({ faultsFrom, random, setting });
  const way = createSimulatedWay(setting.control, random);
  const drawn = createSimulatedDraws(draws, random);
  let open: { startS: number; litres: number } | null = null;
  let pressure = 1;
  let pressureUntilS = 0;

  function flow(others: number): number {
    const { nowS } = drum;
    if (isFaultNow(faultsFrom, "pressure-swings", nowS) && nowS >= pressureUntilS) {
      pressure = 1 - (0.2 + 0.4 * random());
      pressureUntilS = nowS + 900 + 2700 * random();
    }
    if (!way.isOpen()) return 0;
    const passes = isFaultNow(faultsFrom, "valve-passes", nowS) && drum.flowLPerMin > 0;
    if (!float.isWet() || passes) return setting.flowLPerMin * pressure * (others > 0 ? sharedFlow : 1);
    return isFaultNow(faultsFrom, "valve-leaks", nowS) ? setting.leakLPerMin : 0;
  }

  function follow(inL: number): void {
    if (drum.flowLPerMin > setting.leakLPerMin) {
      open ??= { startS: drum.nowS, litres: 0 };
      open.litres += inL;
    } else if (open) {
      fills.push({ ...open, endS: drum.nowS });
      open = null;
    }
  }

  return {
    drum: drum as Readonly<typeof drum>,
    fills: fills as readonly TrueFill[],
    /** Litres of the inflow that runs now; null: none. */
    runningL: (): number | null => open?.litres ?? null,
    stopWet: () => float.isWet(),
    overflowWet: () => drum.litres >= overflowRisesShare * setting.volumeL,
    wayOpen: () => way.isOpen(),
    pressed: () => way.pressed(),
    /** Goes on by one second; `others` drums take from the same supply. */
    step(others = 0): void {
      float.step(drum.litres, drum.nowS);
      way.step(drum.litres, float.isWet(), drum.nowS);
      drum.flowLPerMin = flow(others);
      const inL = drum.flowLPerMin / 60;
      follow(inL);
      feed.pass(inL, drum.nowS);
      drum.kappa25 = (drum.kappa25 * drum.litres + feed.water.kappa25 * inL) / (drum.litres + inL);
      drum.litres = Math.max(1, drum.litres + inL - drawn.flow(drum.nowS) / 60);
      if (drum.litres > setting.volumeL) {
        drum.floorL += drum.litres - setting.volumeL;
        drum.litres = setting.volumeL;
      }
      drum.nowS += 1;
    },
  };
}

/** A drum whose litres and κ25 are known. */
export type DrumModel = ReturnType<typeof createDrumModel>;
