const leastMs = 1000;
const mostMs = 60_000;

/**
 * How long to wait after so many failures in a row, ms: twice as long each time, at most a minute, and by chance between half
 * of it and all, so that gateways of one server do not come back together. `chance` is from 0 up to 1.
 */
export function waitAfter(failures: number, chance: number): number {
  const whole = Math.min(mostMs, leastMs * 2 ** Math.min(30, failures - 1));
  return Math.round(whole * (0.5 + 0.5 * chance));
}
