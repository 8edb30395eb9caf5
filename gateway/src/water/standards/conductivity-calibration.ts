import type { UsPerCm } from "../../quantities/index.ts";

/** A standard and what the probe read in it, both at the standard's temperature. */
export interface StandardReading {
  readonly trueUsPerCm: UsPerCm;
  readonly readUsPerCm: UsPerCm;
}

/** Within what a calibration is believed; common practice, no source. */
export interface CalibrationLimits {
  /** Least and greatest slope. */
  readonly slopeMin: number;
  readonly slopeMax: number;
  /** Greatest offset, as a share of the smallest standard. */
  readonly offsetShareMax: number;
}

/** Slope 0.8 to 1.2, offset to 5 % of the smallest standard: common practice, no source. */
export const usualCalibrationLimits: CalibrationLimits = {
  slopeMin: 0.8,
  slopeMax: 1.2,
  offsetShareMax: 0.05,
};

/** Why a calibration is not believed. */
type CalibrationDoubt = "ok" | "slope-outside-limits" | "offset-outside-limits";

/** True value = slope times reading + offset; or that the readings give no line. */
export type ConductivityCalibration =
  | { readonly code: "readings-tell-nothing" }
  | {
      readonly code: CalibrationDoubt;
      readonly slope: number;
      readonly offsetUsPerCm: UsPerCm;
      /** The probe's nominal cell constant times the slope, 1/cm. */
      readonly cellConstantPerCm: number;
    };

/**
 * Calibration of a conductivity probe by one standard (a cell constant alone) or two (a slope and an offset). Readings are
 * not compensated. `nominalPerCm` is the cell constant that the readings were computed with.
 */
export function conductivityCalibration(
  first: StandardReading,
  second: StandardReading | null,
  nominalPerCm: number,
  limits: CalibrationLimits = usualCalibrationLimits,
): ConductivityCalibration {
  const other = second ?? { trueUsPerCm: 0, readUsPerCm: 0 };
  const slope = (first.trueUsPerCm - other.trueUsPerCm) / (first.readUsPerCm - other.readUsPerCm);
  if (!(slope > 0 && Number.isFinite(slope))) return { code: "readings-tell-nothing" };
  const offsetUsPerCm = second ? first.trueUsPerCm - slope * first.readUsPerCm : 0;
  const smallest = second ? Math.min(first.trueUsPerCm, second.trueUsPerCm) : first.trueUsPerCm;
  const code: CalibrationDoubt =
    slope < limits.slopeMin || slope > limits.slopeMax
      ? "slope-outside-limits"
      : Math.abs(offsetUsPerCm) > limits.offsetShareMax * smallest
        ? "offset-outside-limits"
        : "ok";
  return { code, slope, offsetUsPerCm, cellConstantPerCm: nominalPerCm * slope };
}
