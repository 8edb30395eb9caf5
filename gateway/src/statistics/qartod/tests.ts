import { requireInRange } from "../../quantities/index.ts";
import type { MaybeValue, QartodFlag } from "./flags.ts";

// US IOOS, Manual for Real-Time Quality Control of In-situ Temperature and Salinity Data v2.0 (2016), tests 1, 4, 6–8, 10.
// Where the manual leaves open what becomes of missing neighbours, the tests say so beside them.

/** A range with both ends included. */
export interface Span {
  readonly min: number;
  readonly max: number;
}

/** Thresholds of a test; a test without `fail` never fails a value. */
export interface Thresholds {
  readonly suspect: number;
  readonly fail?: number | undefined;
}

/** 4 above `fail`, 3 above `suspect`, else 1. */
export function beyond(size: number, limits: Thresholds): QartodFlag {
  if (limits.fail !== undefined && size > limits.fail) return 4;
  return size > limits.suspect ? 3 : 1;
}

/** Test 1: the newest value is older than `longestMs`: 4. No value at all: 9. All in milliseconds. */
export function gapFlag(newestMs: number | null, nowMs: number, longestMs: number): QartodFlag {
  if (newestMs === null) return 9;
  return nowMs - newestMs > longestMs ? 4 : 1;
}

/** Test 4: outside `sensor` 4, outside `usual` 3, else 1; missing 9. */
export function grossRangeFlag(value: MaybeValue, sensor: Span, usual: Span = sensor): QartodFlag {
  if (value === null) return 9;
  if (value < sensor.min || value > sensor.max) return 4;
  return value < usual.min || value > usual.max ? 3 : 1;
}

/** Test 6: distance of each value from the mean of its two neighbours. Without one of them 2; missing 9. */
export function spikeFlags(values: readonly MaybeValue[], limits: Thresholds): QartodFlag[] {
  return values.map((value, place) => {
    if (value === null) return 9;
    const before = values[place - 1] ?? null;
    const after = values[place + 1] ?? null;
    if (before === null || after === null) return 2;
    return beyond(Math.abs(value - (before + after) / 2), limits);
  });
}

/**
 * Test 7: change from the value before, in units a second. The first value, and one after a missing one, pass: nothing
 * speaks against them. Missing 9. Throws OutOfRange for columns of unlike length and for times that don't rise.
 */
export function rateFlags(
  values: readonly MaybeValue[],
  seconds: readonly number[],
  limits: Thresholds,
): QartodFlag[] {
  requireInRange("number of times", seconds.length, values.length, values.length, "1");
  return values.map((value, place) => {
    if (value === null) return 9;
    const before = values[place - 1] ?? null;
    if (before === null) return 1;
    const passed = (seconds[place] as number) - (seconds[place - 1] as number);
    requireInRange(
      "time between values",
      passed,
      Number.MIN_VALUE,
      Number.MAX_VALUE,
      "s",
      "Times must rise.",
    );
    return beyond(Math.abs(value - before) / passed, limits);
  });
}

/**
 * Test 8: values that don't move. A value is suspect when it and the `suspectAfter` values before it lie within less
 * than `tolerance`, and fails when the `failAfter` before it do too. Missing ones among them are passed over, and where
 * all are missing a value has nothing to be like and passes; missing 9.
 */
export function flatLineFlags(
  values: readonly MaybeValue[],
  limits: { readonly suspectAfter: number; readonly failAfter: number; readonly tolerance: number },
): QartodFlag[] {
  requireInRange("suspectAfter", limits.suspectAfter, 1, limits.failAfter, "1");
  const flat = (place: number, count: number) => {
    const window = values.slice(Math.max(0, place - count), place + 1);
    return place >= count && present(window).length > 1 && range(window) < limits.tolerance;
  };
  return values.map((value, place) => {
    if (value === null) return 9;
    if (flat(place, limits.failAfter)) return 4;
    return flat(place, limits.suspectAfter) ? 3 : 1;
  });
}

const present = (values: readonly MaybeValue[]) => values.filter((value) => value !== null);

function range(values: readonly MaybeValue[]): number {
  const some = present(values);
  return (
    some.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY) -
    some.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY)
  );
}

function deviation(values: readonly MaybeValue[]): number {
  const some = present(values);
  if (some.length < 2) return 0;
  const mean = some.reduce((sum, value) => sum + value, 0) / some.length;
  return Math.sqrt(some.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (some.length - 1));
}

/** How the attenuated-signal test looks at a signal. */
export interface AttenuationSetting {
  /** Standard deviation, or greatest less least. */
  readonly by: "deviation" | "range";
  /** Below it a signal is suspect. */
  readonly suspect: number;
  /** Below it a signal fails. */
  readonly fail: number;
  /** Each value is judged with those of so many seconds before it; left out: all at once. */
  readonly windowS?: number | undefined;
  /** With fewer values in its window a value is not evaluated; left out: 2, since one alone can't move. */
  readonly leastValues?: number | undefined;
}

/** Test 10: a signal that moves too little. Missing 9. Throws OutOfRange for columns of unlike length. */
export function attenuationFlags(
  values: readonly MaybeValue[],
  seconds: readonly number[],
  setting: AttenuationSetting,
): QartodFlag[] {
  requireInRange("number of times", seconds.length, values.length, values.length, "1");
  const measure = setting.by === "range" ? range : deviation;
  const { windowS, leastValues = 2 } = setting;
  const judge = (window: readonly MaybeValue[]): QartodFlag => {
    if (present(window).length < leastValues) return 2;
    const size = measure(window);
    if (size < setting.fail) return 4;
    return size < setting.suspect ? 3 : 1;
  };
  const whole = windowS === undefined ? judge(values) : null;
  return values.map((value, place) => {
    if (value === null) return 9;
    if (whole !== null || windowS === undefined) return whole ?? 2;
    const end = seconds[place] as number;
    return judge(values.filter((_value, at) => at <= place && (seconds[at] as number) > end - windowS));
  });
}
