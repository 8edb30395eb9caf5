import { requireInRange } from "../quantities/index.ts";

/** Level and trend after a value; the trend is per step. Plain JSON, so that it can be kept and gone on with. */
export interface HoltState {
  readonly level: number;
  readonly trend: number;
}

/** Level and trend after one more value. `alpha` weighs the newest level, `beta` the newest trend, both 0 to 1. */
export function holtNext(state: HoltState, value: number, alpha: number, beta: number): HoltState {
  const level = alpha * value + (1 - alpha) * (state.level + state.trend);
  return { level, trend: beta * (level - state.level) + (1 - beta) * state.trend };
}

/** The value `steps` ahead. */
export function holtForecast(state: HoltState, steps: number): number {
  return state.level + steps * state.trend;
}

/**
 * Holt's linear trend over evenly spaced values: Holt (1957), reprinted Int. J. Forecasting 20 (2004) 5. Begins from
 * the first value and the first difference, and runs over the first value too: other beginnings give other forecasts.
 * Throws OutOfRange for fewer than 2 values and weights outside 0 to 1.
 */
export function holtLinear(values: readonly number[], alpha: number, beta: number): HoltState {
  requireInRange("number of values", values.length, 2, Number.MAX_SAFE_INTEGER, "1");
  requireInRange("alpha", alpha, 0, 1, "1");
  requireInRange("beta", beta, 0, 1, "1");
  const [first, second] = values as readonly [number, number];
  return values.reduce<HoltState>((state, value) => holtNext(state, value, alpha, beta), {
    level: first,
    trend: second - first,
  });
}
