import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { litresIn, nothing, type Parts, takeBack, whole } from "./book.ts";
import type { DrumWord, HiddenSpan } from "./drum-word.ts";

const maxHidden = 24;
/** A step between two readings of a meter that is longer than so many of its periods is a gap. */
const heardPeriods = 3;
/** No step hides less than a silence does, ms. */
const mostStepMs = 3 * 60_000;
/** A fill is seen to begin and to end no farther from the meter's own turn than so many of its periods. */
const seenApartPeriods = 3;
/** What ran past the meter while no fill was told: as little as this is a meter's first pulse, share of the drum. */
const strayShare = 0.002;

/** A time in which nobody saw what came in, and how much of it is proved to have come. */
export interface Silence {
  readonly fromMs: number;
  readonly toMs: number;
  readonly leastL: number | null;
}

/** Remembers what is poured unseen for a silence where the meter before the drum may tell of it yet; its name in the book. */
export function noteHidden(
  word: DrumWord,
  { meters: [meter] }: DrumWitnesses,
  { fromMs, toMs, leastL }: Silence,
  { pouredL, gainL }: { readonly pouredL: number; readonly gainL: number },
): string | undefined {
  // A shared one does not tell whose water it was; one that has told of that time has told all.
  if (!meter || meter.isShared || meter.lastMs === null || meter.lastMs >= toMs || !(pouredL > 0)) return;
  const was = whole(word.book);
  const litres = litresIn(was);
  if (!(litres > 0)) return;
  const name = `silence@${fromMs}-${toMs}-${word.hidden?.length ?? 0}`;
  const span: HiddenSpan = {
    ...{ name, fromMs, toMs, leastL, meter: meter.key },
    stepMs: Math.min(mostStepMs, heardPeriods * meter.periodMs),
    ...{ heardMs: meter.lastMs, heardL: meter.totalL, countedL: 0, strayL: 0, fills: [] },
    gained: Math.min(1, Math.max(0, gainL / pouredL)),
    wasPerL: perLitre(was, litres),
  };
  word.hidden = [...(word.hidden ?? []), span].slice(-maxHidden);
  return name;
}

function perLitre({ watchedL, dose, unwatchedL, ownL, byFill = {} }: Parts, litres: number): Parts {
  const per = { watchedL: watchedL / litres, dose: dose / litres, unwatchedL: unwatchedL / litres };
  const named = Object.entries(byFill).map(([name, one]) => [name, one / litres] as const);
  return { ...per, ownL: ownL / litres, byFill: Object.fromEntries(named) };
}

/** A fill has ended: what the meter tells of its time is in it. */
export function noteTold(word: DrumWord, { startedAtMs, endedAtMs }: Fill): void {
  if (endedAtMs === null || !word.hidden?.length) return;
  word.hidden = word.hidden.map((span) =>
    endedAtMs < span.fromMs || startedAtMs > span.toMs
      ? span
      : { ...span, fills: [...span.fills, { fromMs: startedAtMs, toMs: endedAtMs }] },
  );
}

/** The span with the meter's next reading; null: there is a gap in what it tells. */
function follow(
  span: HiddenSpan,
  { lastMs, totalL }: { readonly lastMs: number; readonly totalL: number },
  running: Fill | null,
): HiddenSpan | null {
  const { fromMs, toMs, heardMs, stepMs } = span;
  if (lastMs < heardMs) return null;
  if (lastMs <= fromMs) return { ...span, heardMs: lastMs, heardL: totalL };
  if (lastMs - heardMs > stepMs) return null;
  const came = totalL - span.heardL;
  const apartMs = (seenApartPeriods * stepMs) / heardPeriods;
  const isTold =
    (running !== null && running.startedAtMs - apartMs <= heardMs) ||
    span.fills.some((one) => one.fromMs - apartMs <= heardMs && one.toMs + apartMs >= Math.min(toMs, lastMs));
  return {
    ...span,
    heardMs: lastMs,
    heardL: totalL,
    countedL: span.countedL + came,
    strayL: span.strayL + (isTold ? 0 : came),
  };
}

/** What was poured for a span is taken back from the book, and from what the others remember of it. */
function withdraw(word: DrumWord, span: HiddenSpan): void {
  word.book = takeBack(word.book, span.name, span);
  word.hidden = (word.hidden ?? []).map((other) => {
    const { base } = takeBack({ base: other.wasPerL, since: nothing, isTight: false }, span.name, span);
    const litres = litresIn(base);
    return litres > 0 ? { ...other, wasPerL: perLitre(base, litres) } : other;
  });
}

/**
 * Goes on with what the meter tells late of silences that were booked as unseen. Water that it counted, and no fill was told
 * for, or less of it than float or level showed, keeps them unseen for good; so does a gap.
 */
export function coverHidden(
  word: DrumWord,
  { meters, lateMs }: DrumWitnesses,
  { running, volumeL }: { readonly running: Fill | null; readonly volumeL: number },
): void {
  if (!word.hidden?.length) return;
  const done: HiddenSpan[] = [];
  word.hidden = word.hidden.flatMap((span) => {
    const meter = meters.find(({ key }) => key === span.meter);
    if (!meter || meter.lastMs === null || meter.lastMs === span.heardMs) return [span];
    const next = follow(span, { lastMs: meter.lastMs, totalL: meter.totalL }, running);
    if (next && next.heardMs < span.toMs) return [next];
    if (next) done.push(next);
    return [];
  });
  for (const span of done) {
    const { leastL, countedL, strayL } = span;
    // What tells of now has not told of then; one that counted nothing of what came is stuck.
    const tells = lateMs !== undefined && countedL > 0;
    if (tells && leastL !== null && countedL >= leastL && strayL <= strayShare * volumeL)
      withdraw(word, span);
  }
}
