import { median, robustSpread } from "../statistics/index.ts";
import { type Bulk, bulkOf, nearestRank } from "./habit-spread.ts";
import { type Peak, peakAt, withPeak } from "./peaks.ts";

/** Of the drum: so far past its trip it may rise before enough trips have told how far they lie apart. */
export const untaughtShare = 0.04;
const maxTrips = 10;
export const maxFills = 20;
/** Before so many trips are known, their spread says nothing. */
const enoughTrips = 5;
/** Before so many good fills, what is usual is not known. */
export const enoughFills = 5;
/** A fill of less than this share of the usual one teaches nothing. */
const leastShare = 0.3;
/** So many of the shortest calls of late are taken for those in which little else is drawn. */
export const bareShare = 0.2;
const maxBare = 60;
/** A fill shorter than this is chatter, ms. */
export const leastMs = 20_000;
const dayMs = 86_400_000;

/** What a drum's past fills taught. Plain data; newest last; changed by `learn` alone. */
export interface Learned {
  readonly tripsL: number[];
  readonly fills: {
    readonly litres: number | null;
    readonly durationMs: number;
    /** Its float was dry at first sight: it brought less than fits between release and trip. Absent: it was whole. */
    readonly isPart?: true;
  }[];
  /** The first trips since the float's last proof: what the guard goes by, whatever later trips say. */
  readonly proofL: number[];
  /** So many trips make the proof: 5; 1 where a person said that the float was moved, and took its trip at once. */
  proofNeeds: number;
  /** The proof that held until the level showed that it or the float was moved; absent: none, or a row of versions before. */
  formerL?: readonly number[];
  /** Where the line said that it trips when they were seen; another word of the line makes them void. */
  saidL: number | null;
  /** From release to trip, ms: the last 20 calls. */
  readonly callsMs: number[];
  /** For how long the valve before it stood open, ms: the last 20 times; absent in rows of versions before. */
  openingsMs?: readonly number[];
  /** For how long it stood open within a call: the last 20, and the greatest with their times; absent in rows of versions before. */
  openInCallsMs?: readonly number[];
  openInCallPeaks?: readonly Peak[];
  /** Of calls, short ones too: the last 60, ms; absent in rows of versions before. */
  bareMs?: readonly number[];
  /** Good fills and calls that took more than most, with their times; absent in rows of versions before. */
  peaks?: readonly Peak[];
  callPeaks?: readonly Peak[];
  /** Fills and calls over which an alarm stood, too few to be the usual; absent: none, or a row of versions before. */
  doubted?: readonly Doubted[];
  doubtedCalls?: readonly Doubted[];
}

/** What a fill or a call took over which an alarm stood. */
export interface Doubted {
  readonly litres: number | null;
  readonly durationMs: number;
  /** When it ended, epoch ms. */
  readonly atMs: number;
  /** Its float was seen to end it; absent: not. */
  readonly isConfirmed?: true;
  /** A usual one has followed it: what was drawn then is over. Absent: none has. */
  readonly isOver?: true;
}

/** Nothing learned yet. */
export function nothingLearned(): Learned {
  return { tripsL: [], fills: [], proofL: [], proofNeeds: enoughTrips, saidL: null, callsMs: [] };
}

type Extent = { readonly litres: number | null; readonly durationMs: number; readonly longestMs: number };

/** What follows from it: asked at each reading, worked out once for what was learned last. */
interface Figures {
  readonly tripL: number | null;
  /** Where it tripped at its last proof, and the standard deviation of those trips, litres; null before 5 of them. */
  readonly provedL: number | null;
  readonly provedDeviationL: number | null;
  readonly callMs: number | null;
  readonly flowLPerMin: number | null;
  readonly extent: Extent | null;
  readonly bulk: { readonly litres: Bulk; readonly durationMs: Bulk; readonly callMs: Bulk };
}

const worked = new WeakMap<Learned, Figures>();
const changes = new WeakMap<Learned, number>();

/** How often it was changed since it was made or read back: a copy of another count is an old one. */
export const changesOf = (learned: Learned): number => changes.get(learned) ?? 0;

/** Something in it has changed: what was worked out of it is void. Called after the last look at that. */
export function noteChange(learned: Learned): void {
  worked.delete(learned);
  changes.set(learned, changesOf(learned) + 1);
}

/** What is worked out of it, once for what was learned last. */
export function figuresOf(learned: Learned): Figures {
  let figures = worked.get(learned);
  if (!figures) {
    const { tripsL, proofL, callsMs } = learned;
    const isProved = proofL.length >= learned.proofNeeds;
    figures = {
      tripL: tripsL.length > 0 ? median(tripsL) : null,
      provedL: isProved ? median(proofL) : null,
      provedDeviationL: proofL.length >= enoughTrips ? robustSpread(proofL).deviationOfMedianDeviation : null,
      callMs: callsMs.length < enoughFills ? null : nearestRank(callsMs),
      flowLPerMin: flowOf(learned),
      extent: extentNow(learned),
      bulk: {
        litres: bulkOf(knownLitres(learned)),
        durationMs: bulkOf(durationsOf(learned)),
        callMs: bulkOf(callsMs),
      },
    };
    worked.set(learned, figures);
  }
  return figures;
}

/** At least 30 % of the usual, once three are known. */
export function isWhole(values: readonly number[], value: number): boolean {
  return values.length < 3 || value >= leastShare * median(values);
}

/** What a fill teaches. */
export interface LearnedFrom {
  /** Litres in the drum when its float tripped; null where nobody knows. */
  readonly tripAtL: number | null;
  /** What came in; null where it is not known, or put together. */
  readonly litres: number | null;
  /** What came in by what is put together (of a meter that others share): explains as much at that time of day, no more. */
  readonly roughL?: number | null;
  readonly durationMs: number;
  /** When it ended, epoch ms. */
  readonly atMs?: number;
  /** Its float was dry at first sight: nobody knows since when. */
  readonly isPart?: boolean;
}

/** Remembers a trip's volume and a whole fill, the last 10 and 20 of them; a top-up or a chatter is not a whole fill. */
export function learn(
  learned: Learned,
  { tripAtL, litres, roughL = null, durationMs, atMs = 0, isPart = false }: LearnedFrom,
): void {
  const { bulk } = figuresOf(learned);
  noteChange(learned);
  if (tripAtL !== null) {
    learned.tripsL.push(tripAtL);
    if (learned.proofL.length < maxTrips) learned.proofL.push(tripAtL);
  }
  if (learned.tripsL.length > maxTrips) learned.tripsL.shift();
  const durations = durationsOf(learned);
  if (durationMs < leastMs || !isWhole(durations, durationMs)) return;
  const peakL = litres ?? roughL;
  // Before anything is usual each fill may be the greatest of its time of day.
  if (durationMs > bulk.durationMs.most || (peakL ?? 0) > (bulk.litres.most || Number.POSITIVE_INFINITY))
    learned.peaks = withPeak(learned.peaks ?? [], { atMs, litres: peakL, durationMs });
  learned.fills.push({ litres, durationMs, ...(isPart ? { isPart: true as const } : {}) });
  if (learned.fills.length > maxFills) learned.fills.shift();
}

/** Where the stop float trips, litres: learned, else as the line says; null where neither knows. */
export function tripVolumeL(learned: Learned, saidL: number | null): number | null {
  return figuresOf(learned).tripL ?? saidL;
}

/**
 * The float was moved, or the line says another trip: what it did before counts no more. `tripL`: where it trips now, as
 * a person who moved it has seen.
 */
export function forgetTrips(learned: Learned, tripL: number | null): void {
  noteChange(learned);
  learned.tripsL.length = 0;
  learned.proofL.length = 0;
  learned.proofNeeds = enoughTrips;
  delete learned.formerL;
  if (tripL === null) return;
  learned.proofNeeds = 1;
  learned.tripsL.push(tripL);
  learned.proofL.push(tripL);
}

/** The line says (anew) where the float trips: another figure than before makes the learned ones void. */
export function takeSaidTrip(learned: Learned, saidL: number | null): void {
  if (saidL === null || learned.saidL === saidL) return;
  if (learned.saidL !== null) forgetTrips(learned, null);
  learned.saidL = saidL;
  noteChange(learned);
}

/** Remembers how long a call took from release to trip. */
export function learnCall(learned: Learned, durationMs: number, atMs = 0): void {
  if (durationMs < leastMs) return;
  // What one large draw a day makes the usual call long by tells nothing against a short one; a chatter is far shorter.
  const bareMs = bareCallMs(learned);
  if (bareMs === null || durationMs >= leastShare * bareMs)
    learned.bareMs = [...(learned.bareMs ?? learned.callsMs), durationMs].slice(-maxBare);
  noteChange(learned);
  if (!isWhole(learned.callsMs, durationMs)) return;
  const usualMs = figuresOf(learned).bulk.callMs.most;
  if (usualMs > 0 && durationMs > usualMs)
    learned.callPeaks = withPeak(learned.callPeaks ?? [], { atMs, litres: null, durationMs });
  learned.callsMs.push(durationMs);
  noteChange(learned);
  if (learned.callsMs.length > maxFills) learned.callsMs.shift();
}

/** The most that good fills and calls took of late about this time of day: litres and ms; 0: nothing out of the usual. */
export function peaksAt(
  learned: Learned,
  atMs: number,
): { readonly litres: number; readonly durationMs: number; readonly callMs: number } {
  const { peaks = [], callPeaks = [] } = learned;
  const { litres, durationMs, callMs } = figuresOf(learned).bulk;
  return {
    ...peakAt(peaks, atMs, { litres, durationMs }),
    callMs: peakAt(callPeaks, atMs, { litres, durationMs: callMs }).durationMs,
  };
}

/** The greatest that a habit of some time of day explains tomorrow: litres and ms; 0: none does. */
export function greatestPeak(learned: Learned): ReturnType<typeof peaksAt> {
  const most = { litres: 0, durationMs: 0, callMs: 0 };
  for (const { atMs } of [...(learned.peaks ?? []), ...(learned.callPeaks ?? [])]) {
    const at = peaksAt(learned, atMs + dayMs);
    most.litres = Math.max(most.litres, at.litres);
    most.durationMs = Math.max(most.durationMs, at.durationMs);
    most.callMs = Math.max(most.callMs, at.callMs);
  }
  return most;
}

/** The most that good calls take, ms: their 95th percentile; null before 5 of them. */
export const longestCallMs = (learned: Learned): number | null => figuresOf(learned).callMs;

/**
 * How long a call takes in which little is drawn beside what releases the float, ms: the shortest fifth of the last 20;
 * null before 3 of them. What fits between release and trip came in in that time.
 */
export function bareCallMs({ callsMs, bareMs = callsMs }: Learned): number | null {
  if (bareMs.length < 3) return null;
  const sorted = [...bareMs.slice(-maxFills)].sort((a, b) => a - b);
  return sorted[Math.floor(bareShare * (sorted.length - 1))] as number;
}

/** The usual flow, L/min, of fills whose litres are known. */
export const usualFlowLPerMin = (learned: Learned): number | null => figuresOf(learned).flowLPerMin;

function flowOf(learned: Learned): number | null {
  const flows = learned.fills.flatMap(({ litres, durationMs }) =>
    // A call to which nothing came says nothing of how fast water comes.
    litres !== null && litres > 0 && durationMs > 0 ? [(litres / durationMs) * 60_000] : [],
  );
  return flows.length === 0 ? null : median(flows);
}

/** The least that a fill from release to trip has brought: no less fits between them. Null before `enough` of them, litres. */
export function leastWholeL({ fills }: Learned, enough: number): number | null {
  const brought = fills.flatMap(({ litres, isPart }) => (litres === null || isPart ? [] : [litres]));
  return brought.length < enough ? null : Math.min(...brought);
}

/** How long a fill usually takes, ms; null before 3 fills. */
export function usualDurationMs(learned: Learned): number | null {
  return learned.fills.length < 3 ? null : median(learned.fills.map(({ durationMs }) => durationMs));
}

/** The most that good fills take: 95th percentile of their litres and times, and the longest; null before 5 fills. */
export const extentOf = (learned: Learned): Extent | null => figuresOf(learned).extent;

const durationsOf = ({ fills }: Learned): number[] => fills.map(({ durationMs }) => durationMs);
const knownLitres = ({ fills }: Learned): number[] =>
  fills.flatMap(({ litres }) => (litres === null ? [] : [litres]));

function extentNow(learned: Learned): Extent | null {
  if (learned.fills.length < enoughFills) return null;
  const litres = knownLitres(learned);
  const durations = durationsOf(learned);
  const durationMs = nearestRank(durations);
  return {
    litres: litres.length < enoughFills ? null : nearestRank(litres),
    durationMs,
    longestMs: Math.max(...durations),
  };
}
