import { type FaultsFrom, isFaultNow } from "./drum-faults.ts";
import type { DrumSetting } from "./drum-setting.ts";

/** κ25 of the supply, of what good resin and a good membrane let through, uS/cm. */
const feed25 = 400;
const passed = { resin: 0.3, membrane: 0.03 * feed25 } as const;
/** What has stood in it for 15 min adds at first, and over how many litres it is gone. */
const stood = { resin: { kappa25: 5, litres: 1.5 }, membrane: { kappa25: 40, litres: 0.5 } } as const;
const stoodS = 15 * 60;
const spentAfterL = 100;
const spentWidthL = 15;

/** The resin or membrane before one or more simulated drums. */
export function createDrumFeed(behind: DrumSetting["behind"], faultsFrom: FaultsFrom) {
  const water = { kappa25: passed[behind] as number };
  const first = stood[behind];
  let standsSinceS = 0;
  let runL = 0;
  let throughL = 0;

  /** The share of the feed that a spent resin or a torn membrane lets through. */
  function share(nowS: number): number {
    if (isFaultNow(faultsFrom, "membrane-torn", nowS)) return 0.3;
    if (!isFaultNow(faultsFrom, "resin-spent", nowS)) return 0;
    return 0.5 / (1 + Math.exp((spentAfterL - throughL) / spentWidthL));
  }

  return {
    water: water as Readonly<typeof water>,
    feed25,
    /** What a drum takes in this second, litres. */
    pass(inL: number, nowS: number): void {
      if (inL > 0) {
        if (nowS - standsSinceS > stoodS) runL = 0;
        standsSinceS = nowS;
        runL += inL;
        if (isFaultNow(faultsFrom, "resin-spent", nowS)) throughL += inL;
      }
      water.kappa25 = passed[behind] + first.kappa25 * Math.exp(-runL / first.litres) + share(nowS) * feed25;
    },
  };
}

/** The way of water into a simulated drum. */
export type DrumFeed = ReturnType<typeof createDrumFeed>;
