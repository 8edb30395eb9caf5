import { requireInRange } from "../quantities/index.ts";

/** Share of Student's t within ± sqrt(freedom) tan(angle): Abramowitz and Stegun, 26.7.3 and 26.7.4 (1964). */
function within(angle: number, freedom: number): number {
  const cosine = Math.cos(angle);
  const odd = freedom % 2 === 1;
  if (freedom === 1) return (2 * angle) / Math.PI;
  let term = odd ? cosine : 1;
  let sum = term;
  for (let n = odd ? 2 : 1; n <= freedom - 3; n += 2) {
    term *= (n / (n + 1)) * cosine * cosine;
    sum += term;
  }
  return odd ? (2 / Math.PI) * (angle + Math.sin(angle) * sum) : Math.sin(angle) * sum;
}

/**
 * Two-sided Student's t: the multiple of the standard error that covers `confidence` (0.01–0.999) at so many degrees of
 * freedom (1–10,000, whole). Throws OutOfRange.
 */
export function studentT(confidence: number, freedom: number): number {
  requireInRange("confidence", confidence, 0.01, 0.999, "1");
  requireInRange("degrees of freedom", freedom, 1, 10_000, "1");
  requireInRange("part of a degree of freedom", freedom % 1, 0, 0, "1", "Degrees of freedom are whole.");
  let low = 0;
  let high = Math.PI / 2;
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (within(middle, freedom) < confidence) low = middle;
    else high = middle;
  }
  return Math.sqrt(freedom) * Math.tan((low + high) / 2);
}
