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
    const suffix = unit === "1" ? "" : ` ${unit}`;
    super(
      `${parameter} is ${value}${suffix}; it must be from ${min} to ${max}${suffix}.${hint && ` ${hint}`}`,
    );
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
