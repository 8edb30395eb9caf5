import { requireInRange } from "../quantities/index.ts";
import { naturalFactor25, naturalRangeC } from "./natural-compensation.ts";

/** What pairs of readings tell about a probe. */
type ProbeKind =
  /** It follows temperature as water does: it gives conductivity as it is. */
  | "raw"
  /** It doesn't follow temperature: it has compensated already, and to do so again would spoil it. */
  | "already-compensated"
  /** It falls as temperature rises: it is compensated twice. */
  | "compensated-twice"
  /** Temperature moved too little, or the water itself changed too much. */
  | "can't-tell";

/** The finding, and the numbers it rests on. */
export interface ProbeFinding {
  readonly kind: ProbeKind;
  /** Share of its rise with temperature that the readings show: 1 raw, 0 compensated, -1 twice. */
  readonly share: number;
  /** Half the width of the 95 % interval of `share`; null where temperature did not move. */
  readonly halfWidth: number | null;
  /** Greatest less least temperature, °C. */
  readonly spanC: number;
}

/** Fewest pairs, and least span of temperature, from which anything is said. */
const fewestPairs = 10;
const leastSpanC = 2;
// Student's t for 95 %, two sides, 8 degrees of freedom: the widest that ten pairs or more can need.
const student = 2.306;

/**
 * Tells whether a probe compensates on its own: the logarithm of what it reads is fitted by a line in the logarithm of
 * natural water's factor (ISO 7888). Slope 1: raw; 0: compensated; -1: twice. Pairs must be of water that stays the same,
 * with temperatures that moved. At least 10 pairs, 0–35.9 °C, readings above 0 (OutOfRange); unequal columns are OutOfRange.
 */
export function probeKind(readings: readonly number[], temperaturesC: readonly number[]): ProbeFinding {
  const pairs = readings.length;
  requireInRange("number of readings", pairs, fewestPairs, 1_000_000, "1");
  requireInRange("number of temperatures", temperaturesC.length, pairs, pairs, "1", "One for each reading.");
  const x = temperaturesC.map((tC) => {
    requireInRange("temperature", tC, naturalRangeC.min, naturalRangeC.max, "Cel");
    return -Math.log(naturalFactor25(tC));
  });
  const y = readings.map((reading) => {
    requireInRange("reading", reading, 1e-6, 1e6, "uS/cm");
    return Math.log(reading);
  });
  const spanC =
    temperaturesC.reduce((most, tC) => Math.max(most, tC), -1) -
    temperaturesC.reduce((least, tC) => Math.min(least, tC), 100);
  const meanX = x.reduce((sum, value) => sum + value, 0) / pairs;
  const meanY = y.reduce((sum, value) => sum + value, 0) / pairs;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  x.forEach((value, place) => {
    const dx = value - meanX;
    const dy = (y[place] ?? meanY) - meanY;
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  });
  if (xx < 1e-12) return { kind: "can't-tell", share: 0, halfWidth: null, spanC };
  const share = xy / xx;
  const residual = Math.max(0, yy - share * xy);
  const halfWidth = student * Math.sqrt(residual / (pairs - 2) / xx);
  return { kind: kindOf(share, halfWidth, spanC), share, halfWidth, spanC };
}

// A kind is named when the slope's interval lies within half of the way to the next kind: natural waters differ from ISO
// 7888 by far less.
function kindOf(share: number, halfWidth: number, spanC: number): ProbeKind {
  if (spanC < leastSpanC) return "can't-tell";
  const within = (middle: number) => Math.abs(share - middle) + halfWidth < 0.5;
  if (within(1)) return "raw";
  if (within(0)) return "already-compensated";
  return within(-1) ? "compensated-twice" : "can't-tell";
}
