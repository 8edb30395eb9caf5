/** A value outside the range in which a formula or a unit makes sense. Says which, the range, and what to do. */
export class OutOfRange extends Error {
  readonly code = "out-of-range";
  readonly parameter: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly unit: string;

  constructor(parameter: string, value: number, min: number, max: number, unit: string) {
    super(`${parameter} is ${value} ${unit}; it must be from ${min} to ${max} ${unit}.`);
    this.name = "OutOfRange";
    this.parameter = parameter;
    this.value = value;
    this.min = min;
    this.max = max;
    this.unit = unit;
  }
}

/** Throws OutOfRange unless `value` is a finite number from `min` to `max` (both included). */
export function requireInRange(
  parameter: string,
  value: number,
  min: number,
  max: number,
  unit: string,
): void {
  if (!(value >= min && value <= max)) throw new OutOfRange(parameter, value, min, max, unit);
}
