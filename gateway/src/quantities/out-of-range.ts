/** A unit as people read it: nothing for plain numbers and pH, and no braces round what is no unit ("{PSU}" is PSU). */
export function unitText(unit: string): string {
  return unit === "1" || unit === "[pH]" ? "" : unit.replace(/^\{(.*)\}$/, "$1");
}

const suffixOf = (unit: string) => (unitText(unit) === "" ? "" : ` ${unitText(unit)}`);
/** An end of a range, without the last digits of its arithmetic. */
const end = (value: number) => Number(value.toPrecision(7));

/** A range as a sentence goes on with it: "from 0 to 35 Cel", "at least 0", "more than 0", "2" where there is one value only. */
export function rangeText(min: number, max: number, unit: string): string {
  const noEnd = (value: number) => Math.abs(value) >= Number.MAX_SAFE_INTEGER;
  const suffix = suffixOf(unit);
  if (min === max) return `${end(min)}${suffix}`;
  if (noEnd(min)) return `at most ${end(max)}${suffix}`;
  if (!noEnd(max)) return `from ${end(min)} to ${end(max)}${suffix}`;
  return min === Number.MIN_VALUE ? "more than 0" : `at least ${end(min)}${suffix}`;
}

/** A value outside the range in which a formula or a unit makes sense. Says which, the range, and what to do. */
export class OutOfRange extends Error {
  readonly code = "out-of-range";
  readonly parameter: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly unit: string;
  /** What to do about it; empty where the range says enough. */
  readonly hint: string;

  constructor(parameter: string, value: number, min: number, max: number, unit: string, hint = "") {
    // Short, unless that would move it into the range.
    const short = end(value) < min || end(value) > max ? end(value) : value;
    const finite = Number.isFinite(value) ? `is ${short}${suffixOf(unit)}` : "has no finite value";
    const is = Number.isNaN(value) ? "is no number" : finite;
    super(`${parameter} ${is}; it must be ${rangeText(min, max, unit)}.${hint && ` ${hint}`}`);
    this.name = "OutOfRange";
    this.parameter = parameter;
    this.value = value;
    this.min = min;
    this.max = max;
    this.unit = unit;
    this.hint = hint;
  }
}

/** Throws OutOfRange unless `value` is a number from `min` to `max` (both included); NaN never is. */
export function requireInRange(
  parameter: string,
  value: number,
  min: number,
  max: number,
  unit: string,
  hint = "",
): void {
  if (!(value >= min && value <= max)) throw new OutOfRange(parameter, value, min, max, unit, hint);
}
