import {
  type Edges,
  hasCounted,
  isProvedUnchanged,
  type Counted as Total,
  type Unchanged,
} from "../../measurements/index.ts";
import { median } from "../../statistics/index.ts";
import type { FloatSaid } from "../drum-witnesses.ts";
import { leastWholeL } from "../learned.ts";
import type { DrumWord } from "./drum-word.ts";
import { spanL, type TripKnown } from "./trip-known.ts";

/** A level may differ by so much after a silence without anything having come in, share of the drum. */
export const levelSlack = 0.01;

/** What the nodes' own counters prove of a drum's stop float and of the meter before it. */
export interface Counted {
  readonly stop: Unchanged | undefined;
  readonly meter: Unchanged | undefined;
  /** What that meter counted since its node's start, and the last changes of the stop float. */
  readonly total: Total | undefined;
  readonly edges: Edges | undefined;
}

/** A float that tripped shows that at least this share of what fits between release and trip came in. */
const explainsShare = 0.8;

const enoughFills = 3;

/**
 * Whether the stop float, wet now, turned so in a silence. It may have turned dry before the eyes of all, while nothing
 * told of the inflow any more: then it was wet when that was last known, and its node need not have counted.
 */
function hasTripped(
  word: DrumWord,
  stop: FloatSaid | null,
  counted: Unchanged | undefined,
  fromMs: number,
): boolean {
  if (stop?.heard !== true || stop.wet !== true) return false;
  return word.knownWet === false || hasCounted(counted, fromMs) || stop.sinceMs > fromMs;
}

/**
 * What the meter's own total says of a silence, litres: no more can have come in through it. Null where it counts from
 * another start, or where the float tripped by more than it counted: then it is stuck, or by-passed.
 */
export function countedL(
  word: DrumWord,
  known: TripKnown,
  { stop, total, edges }: Counted,
  fromMs: number,
): number | null {
  const { knownTotal: before, counted } = word;
  if (!before || !total?.isExact || before.start !== total.start || total.tMs <= fromMs) return null;
  const litres = total.litres - before.litres;
  if (litres < 0) return null;
  if (!hasTripped(word, known.said.stop, stop, fromMs)) return litres;
  const ranL = counted && counted.fill === word.knownFill ? counted.watchedL + counted.unwatchedL : 0;
  const span = spanL(known) ?? (known.learned ? leastWholeL(known.learned, enoughFills) : null);
  // One that changed over and back again tripped more than once.
  const trips = edges && edges.atMs > fromMs ? Math.ceil(edges.count / 2) : 1;
  return span !== null && ranL + litres >= explainsShare * span * trips ? litres : null;
}

/** What most fills from release to trip brought: one whose float was dry at first sight brought less. Null while few are known, litres. */
function usualFillL({ learned }: TripKnown): number | null {
  const brought = (learned?.fills ?? []).flatMap(({ litres }) => (litres === null ? [] : [litres]));
  return brought.length < enoughFills ? null : median(brought);
}

/**
 * What a meter has to count of a silence at least, litres: the float that tripped in it, or a level that rose, showed so
 * much. Null where neither did: a meter that is stuck tells then what one tells past which nothing ran.
 */
export function leastComeL(
  word: DrumWord,
  known: TripKnown,
  { stop, edges }: Counted,
  { fromMs, roseL }: { readonly fromMs: number; readonly roseL: number | null },
): number | null {
  const isHigher = roseL !== null && roseL > levelSlack * known.drum.volumeL;
  const byLevelL = isHigher ? explainsShare * roseL : null;
  if (!hasTripped(word, known.said.stop, stop, fromMs)) return byLevelL;
  const span = spanL(known) ?? usualFillL(known);
  if (span === null) return null;
  const { counted } = word;
  const ranL = counted && counted.fill === word.knownFill ? counted.watchedL + counted.unwatchedL : 0;
  const trips = edges && edges.atMs > fromMs ? Math.ceil(edges.count / 2) : 1;
  return Math.max(byLevelL ?? 0, explainsShare * span * trips - ranL);
}

/** Nodes counted on while they were not heard, and nothing happened: the float stayed wet, or nothing ran past the meter. */
export function isProvedEmpty(
  word: DrumWord,
  { said, drum }: TripKnown,
  counted: Counted,
  fromMs: number,
): boolean {
  const { stop, meters } = said;
  const stayedWet =
    drum.control === "automatic" &&
    word.knownWet === true &&
    stop?.heard === true &&
    stop.wet === true &&
    isProvedUnchanged(counted.stop, fromMs, stop.lastMs);
  if (stayedWet) return true;
  // Where the float tripped meanwhile water came, whatever the meter counted: it is stuck, or by-passed.
  if (hasTripped(word, stop, counted.stop, fromMs)) return false;
  const [meter] = meters;
  // What it counted before the silence proves nothing of it.
  const isHeard = meter?.flowing != null && meter.lastMs !== null && meter.lastMs > fromMs;
  return isHeard && isProvedUnchanged(counted.meter, fromMs, meter.lastMs ?? fromMs);
}
