import { straightLine } from "../../statistics/index.ts";
import { type LevelPlace, type LevelReading, type LevelTrace, noticeableL, stepOf } from "./level-trace.ts";
import { lineOf, stepBetween } from "./stepped-line.ts";

/** All readings of a rise of this length are still kept, ms. */
const waitsMs = 5 * 60_000;
/** A rise that is seen so late tells still how it began. */
const longestMs = 10 * 60_000;
/** Fewer readings tell no more of where a rise began than the first one does. */
const leastReadings = 8;
/** So many lie before and after a step at least. */
const leastBeside = 3;

/** What was drawn before a time was so much more: readings from then on show as much more inflow, L. */
export function addFrom(trace: LevelTrace, fromMs: number, litres: number): void {
  const moved = (reading: LevelReading): LevelReading =>
    reading.tMs >= fromMs ? { tMs: reading.tMs, litres: reading.litres + litres } : reading;
  trace.drawnL += litres;
  trace.recent = trace.recent.map(moved);
  trace.minutes = trace.minutes.map(moved);
}

/** Enough is read of the rise to say where it began. */
export const isFootClear = ({ foot }: LevelTrace, tMs: number): boolean =>
  foot !== undefined && tMs - foot.toMs >= waitsMs;

/** Litres over time, ms since the foot. */
interface Rise {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

interface Step {
  readonly at: number;
  readonly litres: number;
  /** L/ms. */
  readonly slope: number;
  /** Squares that are left over. */
  readonly left: number;
}

/** Where a rise goes down by a step and on at the same pace: the place that leaves least over, and by how much, L. */
function stepIn({ x, y }: Rise): Step | null {
  let best: Step | null = null;
  for (let at = leastBeside; at <= x.length - leastBeside; at += 1) {
    const step = stepBetween(lineOf(x.slice(0, at), y.slice(0, at)), lineOf(x.slice(at), y.slice(at)));
    if (best === null || step.left < best.left) best = { at, ...step };
  }
  return best;
}

/** Greatest of 1 % of the drum, 6 standard deviations of what lines leave over and 2 steps: less is noise. */
export const leastStepL = (trace: LevelTrace, place: LevelPlace, sdL: number): number =>
  Math.max(0.01 * place.volumeL, 6 * sdL, 2 * (place.resolutionL ?? stepOf(trace, place.volumeL)));

/**
 * For how long of a gap in a rise its node was off, where the rise goes on from just where it was: its valve was shut too, and
 * nothing was drawn, ms. 0: it was not so.
 */
export function stoodMs(
  { anew }: LevelTrace,
  gap: { readonly fromMs: number; readonly toMs: number },
  { slope, litres, leastL }: { readonly slope: number; readonly litres: number; readonly leastL: number },
): number {
  if (!anew || anew.fromMs < gap.fromMs || anew.toMs > gap.toMs) return 0;
  const offMs = anew.toMs - anew.fromMs;
  return Math.abs(litres - slope * offMs) <= leastL ? offMs : 0;
}

/** A bucket in the rise, more than noise and less than what came in meanwhile hides, is drawn as well. */
function bookStep(trace: LevelTrace, place: LevelPlace, fromMs: number, rise: Rise): Rise {
  const step = stepIn(rise);
  const sd = step ? Math.sqrt(step.left / Math.max(1, rise.x.length - 3)) : 0;
  if (!step || step.litres <= leastStepL(trace, place, sd)) return rise;
  const [before, after] = [rise.x[step.at - 1] as number, rise.x[step.at] as number];
  const offMs = stoodMs(
    trace,
    { fromMs: fromMs + before, toMs: fromMs + after },
    { ...step, leastL: leastStepL(trace, place, sd || 0) },
  );
  if (offMs > 0) return { x: rise.x.map((ms, at) => (at < step.at ? ms : ms - offMs)), y: rise.y };
  addFrom(trace, fromMs + after, step.litres);
  return { x: rise.x, y: rise.y.map((litres, at) => (at < step.at ? litres : litres + step.litres)) };
}

/**
 * One reading told how low a drum was drawn when it called: all those of the rise, up to `untilMs`, tell it better. Where it stood
 * before, what came in while it was drawn, and the way of the rise back to its foot have to come to the same. Returns what it
 * moved the last reading by, L.
 */
export function settleFoot(trace: LevelTrace, place: LevelPlace, untilMs: number): number {
  const { foot, drawnL } = trace;
  delete trace.foot;
  if (!foot) return 0;
  const readings = trace.recent.filter(({ tMs }) => tMs >= foot.toMs && tMs <= untilMs);
  if (readings.length < leastReadings || (readings[0]?.tMs ?? 0) - foot.toMs > longestMs - waitsMs) return 0;
  const rise = bookStep(trace, place, foot.toMs, {
    x: readings.map(({ tMs }) => tMs - foot.toMs),
    y: readings.map(({ litres }) => litres),
  });
  const { slope, intercept } = straightLine(rise.x, rise.y);
  const offL = foot.stoodL === undefined ? null : foot.stoodL + foot.cameL - intercept;
  // Off by more than noise: something else moved it, and only what came in meanwhile is told anew.
  const isNear = offL !== null && Math.abs(offL) <= noticeableL(trace, place) / 2;
  if (slope > 0) addFrom(trace, foot.toMs, slope * foot.ms - foot.cameL + (isNear ? offL : 0));
  return trace.drawnL - drawnL;
}
