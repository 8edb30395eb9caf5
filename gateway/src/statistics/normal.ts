import { requireInRange } from "../quantities/index.ts";

/** Complementary error function, to some 1e-14 of its value: Abramowitz and Stegun (1964) 7.1.6 and 7.1.14. */
export function erfc(x: number): number {
  if (x < 0) return 2 - erfc(-x);
  return x < 1.5 ? 1 - erfBySeries(x) : erfcByFraction(x);
}

/** Every term is positive, so nothing cancels. */
function erfBySeries(x: number): number {
  let term = x;
  let sum = x;
  for (let n = 1; term > sum * 1e-17 && n < 200; n += 1) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

function erfcByFraction(x: number): number {
  let fraction = x;
  for (let n = 120; n >= 1; n -= 1) fraction = x + n / 2 / fraction;
  return Math.exp(-x * x) / Math.sqrt(Math.PI) / fraction;
}

/** Share of a standard normal distribution at or below `z`. */
export function normalShare(z: number): number {
  return erfc(-z / Math.SQRT2) / 2;
}

/** Density of the standard normal distribution at `z`. */
export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}

/** The `z` at or below which lies `share` (1e-12 to 1 − 1e-12) of a standard normal distribution. Throws OutOfRange. */
export function normalQuantile(share: number): number {
  requireInRange("share", share, 1e-12, 1 - 1e-12, "1");
  if (share > 0.5) return -normalQuantile(1 - share);
  let low = -8;
  let high = 0;
  // The share rises with z, so halving always closes in; 60 halvings are past double precision.
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (normalShare(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
