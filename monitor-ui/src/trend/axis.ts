import { whole } from "../format/numbers.ts";
/** A height axis: where a value stands (0 top, 1 bottom), and what stands beside it. */
export interface Axis {
  readonly isLog: boolean;
  readonly y: (value: number) => number;
  readonly ticks: readonly { readonly value: number; readonly words: string }[];
}

/** Quantities that span decades, and are never under 0. */
const logUnits: ReadonlySet<string> = new Set(["uS/cm", "mg/L"]);
/** From this ratio on equal steps would hide what is small. */
const decadesFrom = 12;
const leastLog = 0.02;

/** 1, 2 or 5 times a power of ten, at least `step`. */
function niceStep(step: number): number {
  const power = 10 ** Math.floor(Math.log10(step));
  const found = [1, 2, 5, 10].find((times) => times * power >= step * (1 - 1e-9)) ?? 10;
  return found * power;
}

const worded = (value: number, step: number) =>
  whole(value, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));

function linear(low: number, high: number): Axis {
  // A steady value is a level line in the middle, not a zigzag of its last digit.
  const least = Math.max(Math.abs(high) * 0.05, 1e-6);
  const spare = Math.max(0, least - (high - low)) / 2;
  const step = niceStep((high - low + 2 * spare) / 4);
  const bottom = Math.floor((low - spare) / step + 1e-9) * step;
  const top = Math.max(bottom + step, Math.ceil((high + spare) / step - 1e-9) * step);
  const count = Math.round((top - bottom) / step);
  return {
    isLog: false,
    y: (value) => (top - value) / (top - bottom),
    ticks: Array.from({ length: count + 1 }, (_, at) => {
      const value = bottom + at * step;
      return { value, words: worded(value, step) };
    }),
  };
}

function logarithmic(low: number, high: number): Axis {
  const bottom = Math.floor(Math.log10(Math.max(leastLog, low)) + 1e-9);
  const top = Math.max(bottom + 1, Math.ceil(Math.log10(Math.max(leastLog, high)) - 1e-9));
  return {
    isLog: true,
    y: (value) => (top - Math.log10(Math.max(10 ** bottom, value))) / (top - bottom),
    ticks: Array.from({ length: top - bottom + 1 }, (_, at) => {
      const value = 10 ** (bottom + at);
      return { value, words: worded(value, Math.min(1, value)) };
    }),
  };
}

/** The axis for values from `low` to `high` of a unit (UCUM): by decades where the unit and the values span them. */
export function axisOf(low: number, high: number, unit: string): Axis {
  if (logUnits.has(unit) && high / Math.max(leastLog, low) >= decadesFrom) return logarithmic(low, high);
  return linear(low, high);
}
