import type { Calibration } from "../acts/index.ts";
import type { Signal } from "../line/index.ts";

/** A channel's correction: `true = factor × read + offset`, in the channel's own unit. */
export interface Correction {
  readonly factor: number;
  readonly offset: number;
  readonly validFromMs: number;
}

/** No correction. */
export const uncorrected: Correction = { factor: 1, offset: 0, validFromMs: 0 };

/**
 * The correction of a one- or two-point calibration. One point is a factor for conductivity (a cell constant) and an
 * offset for all else; two points are a straight line. Null when the points tell nothing (two at one place, a zero), or
 * the channel is a contact.
 */
export function correctionOf(calibration: Calibration, signal: Signal, enteredMs: number): Correction | null {
  const validFromMs = calibration.validFromMs ?? enteredMs;
  const [first, second] = calibration.points;
  if (!first || signal === "contact") return null;
  if (second) {
    if (second.read === first.read) return null;
    const factor = (second.true - first.true) / (second.read - first.read);
    return Number.isFinite(factor) && factor > 0
      ? { factor, offset: first.true - factor * first.read, validFromMs }
      : null;
  }
  if (signal !== "conductivity" && signal !== "solids")
    return { factor: 1, offset: first.true - first.read, validFromMs };
  if (!(first.read > 0 && first.true > 0)) return null;
  return { factor: first.true / first.read, offset: 0, validFromMs };
}
