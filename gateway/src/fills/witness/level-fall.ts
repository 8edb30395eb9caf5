import { median, medianInPlace } from "../../statistics/index.ts";
import { calledFrom } from "./call-in-fall.ts";
import { addFrom, settleFoot } from "./level-foot.ts";
import {
  type LevelPlace,
  type LevelReading,
  type LevelTrace,
  medianIn,
  noiseOf,
  noticeableL,
  stepOf,
} from "./level-trace.ts";
import { lineOf } from "./stepped-line.ts";

const minuteMs = 60_000;
/** A fall is over when it has gone no lower for so long. */
const fallOverMs = 20_000;
/** What rises again faster than this share of the greatest flow is a wave and was no draw. */
const waveTimes = 2;
/** What came in during a fall is known by a rise that begins within this time. */
const owedMs = 10 * minuteMs;
/** A rise after a fall is seen within this time: two windows. */
const settlesMs = 4 * minuteMs;
const settlesPeriods = 10;
/** Of the noise of one reading: so far off its foot may be told. */
const noiseSigmas = 2;
/** So many readings from its foot on tell that it rises at once, where they go by so many times its noise. */
const leastAtOnce = 4;
const clearSigmas = 4;
/** So many readings at least tell where it rests once it has fallen. */
const leastAtFoot = 2;
const footReadings = 5;
/** Of the drum: what lies so far over where it rests was read on its way down. */
const onTheWayShare = 0.005;
/** A level that is read less often. */
const seldomMs = 30_000;
/** Where it stood before a fall is told by the readings of so long, and by so many at least. */
const stoodMs = 5 * minuteMs;
const leastStood = 5;

/** It rises again faster than water can run in: a wave. */
function isWave(trace: LevelTrace, place: LevelPlace, now: number, tMs: number): boolean {
  const { fall } = trace;
  if (!fall) return false;
  const possibleL = (waveTimes * place.greatestFlowLPerMin * (tMs - fall.leastMs)) / minuteMs;
  return now - fall.leastL > possibleL + 2 * noiseOf(trace) + noticeableL(trace, place) / 2;
}

/** What a meter counted from a time on at its flow of now: nothing before it ran. */
const cameL = ({ meteredLPerMin, meteredSinceMs }: LevelPlace, fromMs: number, toMs: number): number =>
  ((meteredLPerMin ?? 0) * Math.max(0, toMs - Math.max(fromMs, meteredSinceMs ?? fromMs))) / minuteMs;

/** What a fall that goes on has taken so far, L. */
export const fallingL = ({ fall }: LevelTrace): number =>
  fall ? Math.max(0, fall.fromL - fall.leastL + fall.cameL) : 0;

/** How fast it rises. A level still says so for a while after the inflow has ended: a wet float or a meter at 0 knows better. */
const risesLPerMs = ({ says, riseLPerMin }: LevelTrace, { stopWet, meteredLPerMin }: LevelPlace): number =>
  says === "flowing" && stopWet !== true && meteredLPerMin !== 0 ? riseLPerMin / minuteMs : 0;

/** Litres of `readings`, as they would stand at `tMs` where the level rises on. */
const restsAt = (readings: readonly LevelReading[], tMs: number, rises: number): number =>
  median(readings.map((one) => one.litres - rises * (one.tMs - tMs)));

/** Where it lies once it has fallen: the first reading near the lowest, told by those after it where it is known how it goes on. */
function foot(trace: LevelTrace, place: LevelPlace, fall: NonNullable<LevelTrace["fall"]>): LevelReading {
  const after = trace.recent.filter(({ tMs }) => tMs > fall.fromMs);
  const rises = risesLPerMs(trace, place);
  // While it calls it rises at once from its lowest point; else it rests there.
  const isPoint = rises === 0 && place.callsSinceMs !== null;
  const near = (litres: number) => after.findIndex((one) => one.litres <= litres + 2 * noiseOf(trace));
  const least = Math.min(...after.map(({ litres }) => litres));
  const lowest = isPoint ? after.findIndex(({ litres }) => litres === least) : near(least);
  // Near one low reading that nothing after it bears out lies no foot, but noise.
  const index = isPoint || after.length - lowest >= leastAtFoot ? lowest : near(fall.leastL);
  const first = after[index] ?? { tMs: fall.leastMs, litres: fall.leastL };
  if (isPoint) return first;
  const rest = after.slice(index);
  const restL = restsAt(rest.slice(0, footReadings), first.tMs, rises);
  // Buckets pass for noise, and then what was read on the way down lies near: it is over what follows it by more than it is worth.
  const offL = Math.max(onTheWayShare * place.volumeL, place.resolutionL ?? stepOf(trace, place.volumeL));
  const down = rest.findIndex(({ tMs, litres }) => litres - rises * (tMs - first.tMs) <= restL + offL);
  const low = rest.slice(Math.max(0, down), Math.max(0, down) + footReadings);
  const [at] = low;
  return at ? { tMs: at.tMs, litres: restsAt(low, at.tMs, rises) } : first;
}

/** Takes a fall for a draw: what was read on the way down belongs to neither side. */
function book(trace: LevelTrace, place: LevelPlace): void {
  const { fall } = trace;
  if (!fall) return;
  trace.fall = null;
  const low = foot(trace, place, fall);
  const isMetered = place.meteredLPerMin !== null;
  const flows = trace.says === "flowing" && place.stopWet !== true;
  const { cameSinceMs = fall.fromMs } = fall;
  const cameMs = Math.max(1, fall.leastMs - cameSinceMs);
  const meanwhileL = isMetered
    ? (fall.cameL * Math.max(0, Math.min(cameMs, low.tMs - cameSinceMs))) / cameMs
    : flows
      ? (trace.riseLPerMin * (low.tMs - fall.fromMs)) / minuteMs
      : 0;
  const drawL = Math.max(0, fall.fromL - low.litres + meanwhileL);
  const fromMs = calledFrom(trace, place, {
    ...{ fromMs: fall.fromMs, fromL: fall.fromL },
    ...{ footMs: low.tMs, footL: low.litres },
  });
  trace.drawnL += drawL;
  trace.guessedL = (trace.guessedL ?? 0) + Math.min(drawL, meanwhileL);
  const moved = ({ tMs, litres }: LevelReading): LevelReading => ({ tMs, litres: litres + drawL });
  const after = trace.recent.filter(({ tMs }) => tMs >= low.tMs).map(moved);
  trace.recent = [...trace.recent.filter(({ tMs }) => tMs <= fall.fromMs), ...after];
  trace.minutes = trace.minutes.filter(({ tMs }) => tMs + minuteMs <= fall.fromMs);
  if (isMetered || trace.says === "flowing") return;
  // One that is seldom read stands for a while before it can tell that it rises: nothing may be owed, and it can't tell.
  const owedNowMs = Math.max(0, low.tMs - (fromMs ?? low.tMs));
  if (fromMs === null || (owedNowMs === 0 && trace.periodMs <= seldomMs)) return;
  // A slow fall hides its own end for longer than a steep one.
  const steepLPerMs = Math.max(1e-6, fall.fromL - low.litres) / Math.max(1, low.tMs - fall.fromMs);
  const blurMs = Math.min(minuteMs, 1.5 * trace.periodMs + noticeableL(trace, place) / 2 / steepLPerMs);
  const { owed } = trace;
  const isOnly = owed === null && trace.says === "still";
  trace.owed = {
    ...{ ms: owedNowMs, toMs: low.tMs, blurMs },
    ...(isOnly && fall.stoodL !== undefined ? { stoodL: fall.stoodL } : {}),
    ...(owed ? { earlier: [...(owed.earlier ?? []), { ms: owed.ms, toMs: owed.toMs }] } : {}),
  };
}

/** It fell while the drum called: whether it rises shows only after a while. */
export const isSettling = ({ owed, lastMs, periodMs }: LevelTrace): boolean =>
  owed !== null && lastMs !== null && lastMs - owed.toMs < Math.max(settlesMs, settlesPeriods * periodMs);

/** How fast its first readings rise from the foot on, where that is more than noise, L/ms; null: it is not. */
function risesAtOnce({ recent, sigmaL }: LevelTrace, footMs: number): number | null {
  const first = recent.filter(({ tMs }) => tMs >= footMs).slice(0, leastAtOnce);
  const [foot, last] = [first[0], first.at(-1)];
  if (first.length < leastAtOnce || !foot || !last) return null;
  const { xx, xy } = lineOf(
    first.map(({ tMs }) => tMs - foot.tMs),
    first.map(({ litres }) => litres),
  );
  return (xy / xx) * (last.tMs - foot.tMs) > clearSigmas * (sigmaL ?? 0) ? xy / xx : null;
}

/**
 * Adds what came in while the drum called and its level fell, now that its rise shows how fast. Nothing, where the rise
 * began only after the fall: then the valve was shut meanwhile. True when something was added.
 */
export function payOwed(
  trace: LevelTrace,
  { begunMs, lPerMs: saidLPerMs }: { readonly begunMs: number; readonly lPerMs: number },
  tMs: number,
): boolean {
  const { owed } = trace;
  trace.owed = null;
  if (!owed || tMs - owed.toMs > owedMs) return false;
  // A bucket since then makes a rise look slow, or as if it had begun later.
  const atOnce = risesAtOnce(trace, owed.toMs) ?? 0;
  const lPerMs = saidLPerMs > atOnce / 2 ? saidLPerMs : atOnce;
  // Noise of more than comes in within a period blurs the foot of slow water.
  const noiseMs = Math.max(0, (noiseSigmas * noiseOf(trace)) / lPerMs - trace.periodMs);
  const isLater = begunMs > owed.toMs + owed.blurMs + noiseMs;
  if (!(lPerMs > 0) || (isLater && atOnce < lPerMs / 2)) return false;
  const { ms, toMs, stoodL, earlier = [] } = owed;
  for (const part of [...earlier, { ms, toMs }]) addFrom(trace, part.toMs, lPerMs * part.ms);
  const allMs = earlier.reduce((sum, part) => sum + part.ms, ms);
  trace.guessedL = (trace.guessedL ?? 0) + lPerMs * allMs;
  trace.foot = { ms: allMs, toMs, cameL: lPerMs * allMs, ...(stoodL === undefined ? {} : { stoodL }) };
  return true;
}

const three = new Float64Array(3);

/** Median of the last three readings; null before there are three. */
function lastThree({ recent }: LevelTrace): number | null {
  if (recent.length < three.length) return null;
  for (let index = 0; index < three.length; index += 1)
    three[index] = (recent[recent.length - 1 - index] as LevelReading).litres;
  return medianInPlace(three, three.length);
}

/** The highest reading before the last one. */
function highestL({ recent }: LevelTrace): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < recent.length - 1; index += 1)
    highest = Math.max(highest, (recent[index] as LevelReading).litres);
  return highest;
}

/** Where the level stood before it fell: its last readings above the half of the fall. */
function brink(trace: LevelTrace, place: LevelPlace, peak: number): LevelReading | null {
  const leastL = noticeableL(trace, place);
  const { recent } = trace;
  const last = recent.findLastIndex(({ litres }) => litres > peak - leastL / 2);
  const before = recent.slice(Math.max(0, last - 4), last + 1);
  const end = before.at(-1);
  if (!end) return null;
  const rises = risesLPerMs(trace, place);
  const moved = median(before.map(({ tMs, litres }) => litres + rises * (end.tMs - tMs)));
  return { tMs: end.tMs, litres: Math.min(moved, Math.max(...before.map(({ litres }) => litres))) };
}

/** A fall that goes by more than noise: begun, going on, or over (then it was a draw). */
export function followFall(trace: LevelTrace, place: LevelPlace, tMs: number): void {
  const now = lastThree(trace);
  if (now === null) return;
  const leastL = noticeableL(trace, place);
  if (!trace.fall) {
    const peak = highestL(trace);
    if (peak - now <= leastL) return;
    const high = brink(trace, place, peak);
    if (!high || high.litres - now <= leastL) return;
    const movedL = settleFoot(trace, place, high.tMs);
    const stood =
      trace.says === "still"
        ? medianIn(trace.recent, Math.max(high.tMs - stoodMs, trace.sinceMs - 1), high.tMs, leastStood)
        : null;
    trace.fall = {
      fromL: high.litres + movedL,
      fromMs: high.tMs,
      leastL: now + movedL,
      leastMs: tMs,
      cameL: cameL(place, high.tMs, tMs),
      cameSinceMs: Math.max(high.tMs, place.meteredSinceMs ?? high.tMs),
      ...(stood === null ? {} : { stoodL: stood.litres }),
    };
    return;
  }
  const { fall } = trace;
  if (isWave(trace, place, now, tMs)) {
    trace.fall = null;
    return;
  }
  if (now < fall.leastL) {
    if (fall.cameL === 0) fall.cameSinceMs = Math.max(fall.fromMs, place.meteredSinceMs ?? fall.fromMs);
    fall.cameL += cameL(place, fall.leastMs, tMs);
    fall.leastL = now;
    fall.leastMs = tMs;
  }
  if (now <= fall.leastL + leastL / 2 && tMs - fall.leastMs < Math.max(fallOverMs, 3 * trace.periodMs))
    return;
  book(trace, place);
}
