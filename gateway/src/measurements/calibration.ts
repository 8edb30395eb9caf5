import type { Calibration } from "../acts/index.ts";
import { kindOf, type Signal } from "../line/index.ts";

/** A channel's correction: `true = factor × read + offset`, in the channel's own unit. */
export interface Correction {
  readonly factor: number;
  readonly offset: number;
  readonly validFromMs: number;
}

/** No correction. */
const uncorrected: Correction = { factor: 1, offset: 0, validFromMs: 0 };

/**
 * The correction of a one- or two-point calibration. What one point is stands in the table of signals: a factor for
 * conductivity (a cell constant; ISO 7888:1985, from memory), an offset for most; two points are a straight line. A clean
 * dry cell reads 0 in air but for the cable's capacitance, and a high reading there is dirt (air calibration, Yokogawa
 * IM 12A01A02-01E, 11.3): that is an offset beside the factor, so a zero counts together with a standard. Null when the
 * points tell nothing (two of the same reading, a zero alone), or the channel can't be calibrated (a contact).
 */
export function correctionOf(calibration: Calibration, signal: Signal, enteredMs: number): Correction | null {
  const validFromMs = calibration.validFromMs ?? enteredMs;
  const [first, second] = calibration.points;
  const { onePoint } = kindOf(signal);
  if (!first || onePoint === "none") return null;
  if (second) {
    if (second.read === first.read) return null;
    const factor = (second.true - first.true) / (second.read - first.read);
    const offset = first.true - factor * first.read;
    return Number.isFinite(factor) && Number.isFinite(offset) && factor > 0
      ? { factor, offset, validFromMs }
      : null;
  }
  if (onePoint === "offset") {
    const offset = first.true - first.read;
    return Number.isFinite(offset) ? { factor: 1, offset, validFromMs } : null;
  }
  const factor = first.true / first.read;
  // Not even the least of readings makes it infinite or nothing.
  return first.read > 0 && Number.isFinite(factor) && factor > 0 ? { factor, offset: 0, validFromMs } : null;
}

/** Of corrections in the order of their `validFromMs` the one that is in force at `tMs`. */
export function inForceAt(
  corrections: readonly Correction[],
  tMs: number,
): Pick<Correction, "factor" | "offset"> {
  for (let index = corrections.length - 1; index >= 0; index -= 1) {
    const correction = corrections[index] as Correction;
    if (correction.validFromMs <= tMs) return correction;
  }
  return uncorrected;
}
