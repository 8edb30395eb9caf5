import type { DrumWater } from "../fill.ts";
import type { Reason } from "../reason.ts";
import { type Book, type Parts, unknownBook } from "./book.ts";

/**
 * What a silence may have brought was poured in unseen, under a name. The meter before the drum was silent too: once it tells
 * late of all that time without a gap, what it counted is in fills of their own, and this is taken back. Plain data.
 */
export interface HiddenSpan {
  readonly name: string;
  readonly fromMs: number;
  readonly toMs: number;
  /** So much the meter has to count at least: the float, or a level, showed that it came; null: nobody else saw any of it. */
  readonly leastL: number | null;
  readonly meter: string;
  /** Longest step between its readings, ms. */
  readonly stepMs: number;
  /** How far the meter has told, and what its litres were then and when the span began. */
  readonly heardMs: number;
  readonly heardL: number;
  readonly countedL: number;
  /** Of these, what no fill was told for. */
  readonly strayL: number;
  /** Fills that ended since. */
  readonly fills: readonly { readonly fromMs: number; readonly toMs: number }[];
  /** Of each litre that was poured, what the drum gained; and what a litre of it was before. */
  readonly gained: number;
  readonly wasPerL: Parts;
}

/**
 * A call for water of which a meter alone says that none has come: the supply may be shut, or the meter stuck. Plain data.
 * `badMs`: for how long of it bad water stood before the drum, or nobody saw which.
 */
interface Unproved {
  readonly sinceMs: number;
  readonly lastMs: number;
  readonly badMs: number;
  readonly isBad: boolean;
}

/** What a fill has brought into the book so far. */
interface Counted {
  readonly fill: string;
  readonly watchedL: number;
  readonly dose: number;
  readonly unwatchedL: number;
  /** Of it, what came in beside its meter; absent: nothing. */
  readonly missedL?: number;
  /** What may have come in beside what its meter counted, κ25 × litres over what it took the place of; absent: nothing. */
  readonly shortDose?: number;
  /** The worst that what was seen of the drum's water can have been when it began, uS/cm; absent in rows of versions before. */
  readonly was25?: number;
}

/** A fill as it was told when it ended, of which something was not seen: what is seen of it later is told under its id. */
export interface UnseenFill {
  readonly fill: string;
  readonly endedAtMs: number;
  /** Null: nobody counted them. */
  readonly litres: number | null;
  readonly known: number;
  readonly dose25: number | null;
  /** A level alone saw it, while the meter before the drum was silent: what that counts of it bounds what its probe saw. */
  readonly counted?: {
    readonly meter: string;
    readonly startedAtMs: number;
    /** How far the meter had told when it was over, ms; how much it had counted when the fill began, and counted of it; null: not told yet. */
    readonly heardMs: number;
    readonly fromL: number;
    readonly litres: number | null;
  };
  /** What is seen of it by now, where that waits for its meter. */
  readonly late?: { readonly known: number; readonly dose25: number | null };
}

/** How a person released a drum. */
interface Release {
  readonly by: string;
  readonly how: "hand-test" | "dumped" | "diluted" | "other";
  readonly atMs: number;
  readonly note?: string;
  /** What the hand test found, uS/cm at 25 °C. */
  readonly value25?: number;
  /** The drum's band then, where what was found lay over it, uS/cm at 25 °C. */
  readonly over25?: number;
}

/**
 * What came in, of litres that nobody knows, while nothing was asked of a drum's water: fed with supply water for a while, say.
 * Plain data.
 */
interface Unasked {
  /** The highest that a fill of it was, uS/cm at 25 °C. */
  readonly kappa25: number;
  /** The most that can have come, L. */
  readonly litres: number;
}

/** Water far over its limit that was seen before a drum which only a person tells of. Plain data. */
export interface SeenBefore {
  readonly lastMs: number;
  readonly wasBad: boolean;
  readonly badMs: number;
  readonly lastBadMs: number;
}

/** What is remembered of one drum's water. Plain data; one row of the checkpoint. */
export interface DrumWord {
  book: Book;
  isSeen: boolean;
  everFilled: boolean;
  counted: Counted | null;
  /** The last fills of which something was not seen; absent in rows of versions before. */
  unseen?: readonly UnseenFill[];
  /** What silences hid that a meter may yet tell of; absent in rows of versions before. */
  hidden?: readonly HiddenSpan[];
  /** A call to which nothing comes, by a meter alone; absent in rows of versions before. */
  unproved?: Unproved | null;
  /** What came in while nothing was asked of it; absent in rows of versions before. */
  unasked?: Unasked | null;
  /** What was seen before it while nobody says that it is filled; absent in rows of versions before. */
  seenBefore?: SeenBefore | null;
  heldSinceMs: number | null;
  heldFor: Reason[];
  wasLost: boolean;
  release: Release | null;
  /** What was before the last release, while it can be taken back. */
  undo?: { readonly atMs: number; readonly before: Omit<DrumWord, "undo"> } | null;
  /** Bad water up to then was answered for by a person. */
  answeredMs: number;
  /** After a hand test the band is not below 1.1 × what it said. */
  tested25: number | null;
  /** Where the float tripped when the drum had been emptied and everything since was counted, litres. */
  tripByBookL: number | null;
  drawnL: number;
  /** What salt had done to its level when it was emptied, or first seen, L; absent: neither, or a row of versions before. */
  saltL?: number;
  /** What came in and was drawn since the level last set the book right. */
  movedL: number;
  /** What the book lost since then because no drum holds more than its volume, litres; absent in rows of versions before. */
  cutL?: number;
  /** What was drawn of the running fill's water as it came, and is yet to be taken off it, litres; absent: nothing, or a row of versions before. */
  spentL?: number;
  /** What draws were guessed by in all, and since then; absent in rows of versions before. */
  guessedL?: number;
  guessL?: number;
  handL: number;
  /** When the inflow was last known, whether a fill ran then, and what the float said. */
  knownMs: number | null;
  knownFill: string | null;
  knownWet: boolean | null;
  knownLevelL: number | null;
  /** What the meter's own total was then, litres of which start of its node; absent in rows of versions before. */
  knownTotal?: { readonly start: number; readonly litres: number } | null;
  isBlind: boolean;
  /** Something tells of the inflow again since, while other nodes are still waited for, ms; absent in rows of versions before. */
  backMs?: number | null;
  /** What waited in a node still comes in, and may tell of water since then, ms; absent in rows of versions before. */
  owedFromMs?: number | null;
  /** When what a silence hides is asked for, ms; absent in rows of versions before. */
  hiddenDueMs?: number | null;
  /** What ran past a shared meter, and nobody asked for; absent in rows of versions before. */
  unclaimed?: { readonly sinceMs: number; readonly litres: number } | null;
  /** It was said to be emptied then, with its stop float wet: a float that stays so speaks against it; absent in rows of versions before. */
  dumpedWetMs?: number | null;
  /** Since when a probe stood still that was found out; absent in rows of versions before. */
  flatSinceMs?: number | null;
  stopWet: boolean | null;
  told: {
    readonly verdict: DrumWater["verdict"];
    readonly sinceMs: number;
    /** Names its reasons, whatever figures are in them. */
    readonly kind: string;
    /** On hold only because its salt water is not ready; absent in rows of versions before. */
    readonly isNotReady?: boolean;
  } | null;
}

/** A drum whose contents nobody knows. */
export function newDrumWord(volumeL: number): DrumWord {
  return {
    book: unknownBook(volumeL, false),
    isSeen: false,
    everFilled: false,
    counted: null,
    heldSinceMs: null,
    heldFor: [],
    wasLost: false,
    release: null,
    undo: null,
    answeredMs: 0,
    tested25: null,
    tripByBookL: null,
    drawnL: 0,
    movedL: 0,
    handL: 0,
    knownMs: null,
    knownFill: null,
    knownWet: null,
    knownLevelL: null,
    isBlind: false,
    stopWet: null,
    told: null,
  };
}
