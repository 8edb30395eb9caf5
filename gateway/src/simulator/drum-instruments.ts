import { type FaultsFrom, isFaultNow } from "./drum-faults.ts";
import type { DrumSetting } from "./drum-setting.ts";

const meterSpread = 0.01;
const levelStepL = 0.1;
const underReads = 0.6;
const driftLPerH = 4;
const waveL = 3;
const waveS = 7;

interface InstrumentsOptions {
  readonly faultsFrom: FaultsFrom;
  readonly random: () => number;
  readonly setting: Pick<DrumSetting, "meterStartsLPerMin" | "levelSpreadL">;
}

/** What the meter and the level of a simulated drum say of it; null: nothing. */
export function createSimulatedInstruments({ faultsFrom, random, setting }: InstrumentsOptions) {
  const { meterStartsLPerMin, levelSpreadL } = setting;
  let frozenL: number | null = null;
  /** Box and Muller, Ann. Math. Stat. 29 (1958) 610. */
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

  return {
    /** L/min. */
    meter(flowLPerMin: number, nowS: number): number | null {
      const said = flowLPerMin < meterStartsLPerMin ? 0 : flowLPerMin * (1 + meterSpread * normal());
      if (isFaultNow(faultsFrom, "meter-drops-out", nowS)) return null;
      if (isFaultNow(faultsFrom, "meter-stuck-at-0", nowS)) return 0;
      return isFaultNow(faultsFrom, "meter-under-reads", nowS) ? underReads * said : said;
    },
    /** Litres that the meter counts in a second of this flow. */
    counts(flowLPerMin: number, nowS: number): number {
      const stands = flowLPerMin < meterStartsLPerMin || isFaultNow(faultsFrom, "meter-stuck-at-0", nowS);
      if (stands) return 0;
      return (flowLPerMin / 60) * (isFaultNow(faultsFrom, "meter-under-reads", nowS) ? underReads : 1);
    },
    /** Litres. */
    level(litres: number, nowS: number): number {
      const now = (fault: Parameters<typeof isFaultNow>[1]) => isFaultNow(faultsFrom, fault, nowS);
      const drift = now("level-drifts") ? (driftLPerH * (nowS - faultsFrom.fromS)) / 3600 : 0;
      const wave = now("level-waves") ? waveL * Math.sin((2 * Math.PI * nowS) / waveS) : 0;
      const said = Math.round((litres + drift + wave + levelSpreadL * normal()) / levelStepL) * levelStepL;
      if (now("level-freezes")) frozenL ??= said;
      return frozenL ?? said;
    },
  };
}
