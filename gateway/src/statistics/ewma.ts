import { requireInRange } from "../quantities/index.ts";

/** How an EWMA chart is set; target and deviation in the values' unit. */
export interface EwmaSetting {
  readonly target: number;
  /** Standard deviation of a single value around the target; above 0. */
  readonly deviation: number;
  /** Weight of the newest value, above 0 to 1. */
  readonly weight: number;
  /** Width of the limits in standard deviations of the average. */
  readonly width: number;
}

/** An EWMA over a whole list. */
export interface EwmaResult {
  readonly averages: readonly number[];
  /** Limits that widen from the first value on (exact variance), one a value. */
  readonly upper: readonly number[];
  readonly lower: readonly number[];
  /** Limits after many values. */
  readonly steadyUpper: number;
  readonly steadyLower: number;
  /** 1-based place of the first average outside its exact limits; null where there is none. */
  readonly signalAt: number | null;
}

/** The average after one more value. */
export function ewmaNext(setting: EwmaSetting, average: number, value: number): number {
  return setting.weight * value + (1 - setting.weight) * average;
}

/** Distance of the limits from the target after `count` values; `Infinity` for the steady ones. Throws OutOfRange. */
export function ewmaHalfWidth(setting: EwmaSetting, count: number): number {
  requireInRange("weight", setting.weight, Number.MIN_VALUE, 1, "1");
  requireInRange("deviation", setting.deviation, Number.MIN_VALUE, Number.MAX_VALUE, "1");
  requireInRange("width", setting.width, 0, 100, "1");
  const { weight, deviation, width } = setting;
  return width * deviation * Math.sqrt((weight / (2 - weight)) * (1 - (1 - weight) ** (2 * count)));
}

/**
 * Exponentially weighted moving average from the target on, with its control limits: Roberts, Technometrics 1 (1959)
 * 239; Lucas and Saccucci, Technometrics 32 (1990) 1. Throws OutOfRange for a setting that can't be.
 */
export function ewma(values: readonly number[], setting: EwmaSetting): EwmaResult {
  const steady = ewmaHalfWidth(setting, Number.POSITIVE_INFINITY);
  let average = setting.target;
  let signalAt: number | null = null;
  const averages: number[] = [];
  const upper: number[] = [];
  const lower: number[] = [];
  for (const value of values) {
    average = ewmaNext(setting, average, value);
    averages.push(average);
    const half = ewmaHalfWidth(setting, averages.length);
    upper.push(setting.target + half);
    lower.push(setting.target - half);
    if (Math.abs(average - setting.target) > half) signalAt ??= averages.length;
  }
  return {
    averages,
    upper,
    lower,
    steadyUpper: setting.target + steady,
    steadyLower: setting.target - steady,
    signalAt,
  };
}
