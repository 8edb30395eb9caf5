import { requireInRange } from "../quantities/index.ts";

/** How a CUSUM is set: all but the head start in the values' unit. */
export interface CusumSetting {
  readonly target: number;
  /** Drift per value that is allowed for: half of the shift to be found. */
  readonly allowance: number;
  /** Sum beyond which it signals. */
  readonly limit: number;
  /** Fast initial response: the share of the limit at which both sums begin; 0 (none) where left out, 0.5 usual. */
  readonly headStart?: number;
}

/** Both sums after a value. Plain JSON, so that it can be kept and gone on with. */
export interface CusumState {
  readonly high: number;
  readonly low: number;
  /** Values in a row for which each sum has not been 0. */
  readonly highRun: number;
  readonly lowRun: number;
}

/** Both sums before the first value. Throws OutOfRange for a negative allowance, a limit of 0, a head start of 1. */
export function cusumStart(setting: CusumSetting): CusumState {
  requireInRange("allowance", setting.allowance, 0, Number.MAX_VALUE, "1");
  requireInRange("limit", setting.limit, Number.MIN_VALUE, Number.MAX_VALUE, "1");
  requireInRange("head start", setting.headStart ?? 0, 0, 0.99, "1");
  const first = (setting.headStart ?? 0) * setting.limit;
  return { high: first, low: first, highRun: 0, lowRun: 0 };
}

/**
 * Both sums of a two-sided tabular CUSUM after one more value: Page, Biometrika 41 (1954) 100; head start of Lucas and
 * Crosier, Technometrics 24 (1982) 199.
 */
export function cusumNext(setting: CusumSetting, state: CusumState, value: number): CusumState {
  const high = Math.max(0, state.high + value - setting.target - setting.allowance);
  const low = Math.max(0, state.low - (value - setting.target) - setting.allowance);
  return {
    high,
    low,
    highRun: high > 0 ? state.highRun + 1 : 0,
    lowRun: low > 0 ? state.lowRun + 1 : 0,
  };
}

/** Which way a CUSUM signals, or null. */
export function cusumSide(setting: CusumSetting, state: CusumState): "up" | "down" | null {
  if (state.high > setting.limit) return "up";
  return state.low > setting.limit ? "down" : null;
}

/** A CUSUM over a whole list. */
export interface CusumResult {
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** 1-based place of the first value at which it signals; null where it never does. */
  readonly signalAt: number | null;
  readonly side: "up" | "down" | null;
  /** 1-based place of the last value before the sum began to rise to the first signal: the shift came after it. */
  readonly shiftAfter: number | null;
  /** Mean since the shift, as the sum at the first signal tells it: target ± (allowance + sum / values since). */
  readonly newMean: number | null;
}

/** A CUSUM over values in their order. Throws OutOfRange for a setting that can't be. */
export function cusum(values: readonly number[], setting: CusumSetting): CusumResult {
  let state = cusumStart(setting);
  const high: number[] = [];
  const low: number[] = [];
  let signal: Pick<CusumResult, "signalAt" | "side" | "shiftAfter" | "newMean"> | null = null;
  for (const value of values) {
    state = cusumNext(setting, state, value);
    high.push(state.high);
    low.push(state.low);
    const side = cusumSide(setting, state);
    if (signal || !side) continue;
    const [sum, run, sign] = side === "up" ? [state.high, state.highRun, 1] : [state.low, state.lowRun, -1];
    signal = {
      signalAt: high.length,
      side,
      shiftAfter: high.length - run,
      newMean: setting.target + sign * (setting.allowance + sum / run),
    };
  }
  return { high, low, ...(signal ?? { signalAt: null, side: null, shiftAfter: null, newMean: null }) };
}
