import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { seeLate, whole } from "./book.ts";
import type { DrumWord, UnseenFill } from "./drum-word.ts";

const maxUnseen = 24;
const least = 1e-6;
/** A level and a meter see a fill begin and end no farther apart than this, or so many periods of the meter. */
const seenApartMs = 60_000;
const seenApartPeriods = 3;
/** A meter that nobody calibrated counts wrong by up to so much (common practice, no source). */
const miscounts = 1.25;

/** A level alone saw a fill: its meter, with its probe, was silent, and may yet tell. */
function awaitedOf(fill: Fill, { meters: [meter] }: DrumWitnesses): Pick<UnseenFill, "counted"> {
  if (fill.basis !== "level" || !meter || meter.isShared || meter.flowing !== null) return {};
  const { key, totalL, lastMs } = meter;
  const { startedAtMs } = fill;
  if (lastMs === null || lastMs >= startedAtMs) return {};
  return { counted: { meter: key, startedAtMs, heardMs: lastMs, fromL: totalL, litres: null } };
}

/** Remembers a fill that has ended with something of it unseen, as long as some of that may be in the drum. */
export function noteUnseen(word: DrumWord, fill: Fill, said: DrumWitnesses): void {
  const known = fill.known ?? fill.watched;
  const { byFill = {} } = whole(word.book);
  const others = (word.unseen ?? []).filter((one) => one.fill !== fill.id && one.fill in byFill);
  const { id, endedAtMs, litres, dose25 = null } = fill;
  const isNew = endedAtMs !== null && !fill.flowUnknown && id in byFill;
  word.unseen = isNew
    ? [...others, { fill: id, endedAtMs, litres, known, dose25, ...awaitedOf(fill, said) }].slice(-maxUnseen)
    : others;
}

/** The fill as it was told before, where it is told anew only because more of it was seen; null: it is another telling. */
function toldBefore({ unseen = [] }: DrumWord, fill: Fill): UnseenFill | null {
  const before = unseen.find((one) => one.fill === fill.id);
  if (!before || fill.flowUnknown) return null;
  return before.endedAtMs === fill.endedAtMs && before.litres === fill.litres ? before : null;
}

/** The share of a fill that ran past its meter, and with that past its probe, as far as the meter tells it, 0 to 1. */
function countedShare({ counted, litres }: UnseenFill): number {
  if (!counted || counted.litres === null || litres === null || !(litres > 0)) return 1;
  const share = counted.litres / litres;
  return miscounts * share >= 1 ? 1 : share;
}

/** What is seen of a fill by now goes into the book. */
function seeMore(word: DrumWord, before: UnseenFill): UnseenFill {
  const { late } = before;
  // Of litres that nobody knows, what was seen of them tells nothing.
  if (!late || before.counted?.litres === null || before.litres === null) return before;
  const known = Math.min(late.known, countedShare(before));
  const more = known - before.known;
  if (more < least) return before;
  const dose = known * (late.dose25 ?? 0) - before.known * (before.dose25 ?? 0);
  const share = more / (1 - before.known);
  word.book = seeLate(word.book, before.fill, { share, kappa25: Math.max(0, dose / more) });
  return { ...before, known, dose25: late.dose25 };
}

/**
 * What a probe's node had kept tells of a fill that was over: what of its water is still in the drum was seen after all.
 * False: the fill is told for another reason.
 */
export function takeSeenLate(word: DrumWord, fill: Fill): boolean {
  const before = toldBefore(word, fill);
  if (!before) return false;
  const late = { known: fill.known ?? fill.watched, dose25: fill.dose25 ?? null };
  const now = seeMore(word, { ...before, late });
  word.unseen = (word.unseen ?? []).map((one) => (one === before ? now : one));
  return true;
}

/** A fill that waits for its meter, with what that tells now. */
function follow(one: UnseenFill, { meters, lateMs }: DrumWitnesses): UnseenFill {
  const { counted } = one;
  const meter = counted && meters.find(({ key }) => key === counted.meter);
  if (!counted || counted.litres !== null || !meter || meter.lastMs === null) return one;
  const { lastMs, totalL } = meter;
  if (lastMs === counted.heardMs) {
    const { counted: _, ...uncounted } = one;
    // One that says nothing though its probe has told is dead: the level is all that counts.
    return one.late && lateMs === undefined ? uncounted : one;
  }
  const apartMs = Math.max(seenApartMs, seenApartPeriods * meter.periodMs);
  if (lastMs <= counted.startedAtMs - apartMs) return { ...one, counted: { ...counted, fromL: totalL } };
  if (lastMs < one.endedAtMs + apartMs) return one;
  return { ...one, counted: { ...counted, litres: totalL - counted.fromL } };
}

/** Goes on with what the meter tells late of fills that only a level had counted. */
export function followCounted(word: DrumWord, said: DrumWitnesses): void {
  if (!word.unseen?.some(({ counted }) => counted?.litres === null)) return;
  word.unseen = word.unseen.map((one) => {
    const next = follow(one, said);
    return next === one ? one : seeMore(word, next);
  });
}
