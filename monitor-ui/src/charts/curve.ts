import type { Buckets } from "@drumlin/gateway/contract";

/** A curve in a box of its own units: y downward, gaps as gaps. */
export interface Curve {
  /** The mean, one path for all stretches; a lone reading is a dot. */
  readonly line: string;
  /** From lowest to highest. */
  readonly band: string;
  /** Height of a limit; null where none stands. */
  readonly limit: number | null;
  readonly lowest: number | null;
  readonly highest: number | null;
}

export const curveWidth = 200;
export const curveHeight = 40;
const margin = 3;

type Known = readonly [x: number, min: number, mean: number, max: number];

/** Stretches without a gap. */
function stretchesOf({ t, min, mean, max }: Buckets): Known[][] {
  const stretches: Known[][] = [];
  let open: Known[] | null = null;
  const step = curveWidth / Math.max(1, t.length);
  t.forEach((_, at) => {
    const [low, middle, high] = [min[at], mean[at], max[at]];
    if (low == null || middle == null || high == null) {
      open = null;
      return;
    }
    if (!open) {
      open = [];
      stretches.push(open);
    }
    open.push([(at + 0.5) * step, low, middle, high]);
  });
  return stretches;
}

/** Draws buckets; where a limit stands the scale is logarithmic, so that 0.1 and 300 uS/cm both show. */
export function curveOf(buckets: Buckets, limit: number | null): Curve {
  const stretches = stretchesOf(buckets);
  const all = stretches.flat();
  if (all.length === 0) return { line: "", band: "", limit: null, lowest: null, highest: null };
  const lowest = Math.min(...all.map(([, low]) => low));
  const highest = Math.max(...all.map(([, , , high]) => high));
  const isLog = limit !== null;
  const scaled = (value: number) => (isLog ? Math.log10(Math.max(0.02, value)) : value);
  const bottom = scaled(Math.min(lowest, limit ?? lowest));
  // A steady value is a level line in the middle, not a zigzag of its last digit.
  const span = Math.max(
    scaled(Math.max(highest, limit ?? highest)) - bottom,
    isLog ? 0.3 : Math.abs(highest) * 0.2,
    1e-6,
  );
  const spare = (span - (scaled(Math.max(highest, limit ?? highest)) - bottom)) / 2;
  const y = (value: number) =>
    (curveHeight - margin - ((scaled(value) - bottom + spare) / span) * (curveHeight - 2 * margin)).toFixed(
      1,
    );
  const path = (points: readonly (readonly [number, string])[]) =>
    points.map(([x, height], at) => `${at === 0 ? "M" : "L"}${x.toFixed(1)} ${height}`).join("");
  return {
    line: stretches
      .map((own) => path(own.map(([x, , mean]) => [x, y(mean)])) + (own.length === 1 ? "h.01" : ""))
      .join(""),
    band: stretches
      .filter((own) => own.length > 1)
      .map((own) => {
        const there = own.map(([x, , , high]) => [x, y(high)] as const);
        const back = [...own].reverse().map(([x, low]) => [x, y(low)] as const);
        return `${path([...there, ...back])}Z`;
      })
      .join(""),
    limit: limit === null ? null : Number(y(limit)),
    lowest,
    highest,
  };
}
