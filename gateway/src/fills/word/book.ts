/** Litres by what is known of them: watched with their dose, unwatched as they came in, and the drum's own unknown water. */
export interface Parts {
  readonly watchedL: number;
  /** κ25 × litres of watched water, uS/cm × L. */
  readonly dose: number;
  readonly unwatchedL: number;
  readonly ownL: number;
  /** κ25 × litres of what an emptied drum may have kept of its water before, uS/cm × L; absent: nothing, or a row of versions before. */
  readonly restDose?: number;
  /** κ25 × litres that may be in it beside `dose`, as its meter may count less than comes in, uS/cm × L; absent: nothing, or a row of versions before. */
  readonly shortDose?: number;
  /** Of `unwatchedL`, what each fill brought, and each silence by its name: readings of it may come late. Absent in rows of versions before. */
  readonly byFill?: Readonly<Record<string, number>>;
}

/**
 * What is in a drum, ideally mixed: what was there at the last anchor, and what came in since. Plain data.
 * The whole is V = watched + unwatched + own.
 */
export interface Book {
  readonly base: Parts;
  readonly since: Parts;
  /** It was emptied, and everything since was counted: nothing was drawn yet. */
  readonly isTight: boolean;
}

/** Nothing came in. */
export const nothing: Parts = { watchedL: 0, dose: 0, unwatchedL: 0, ownL: 0 };

/** Less of a fill's water than this is left: no reading of it changes anything. */
const leastL = 0.01;

function byFillOf(entries: Iterable<readonly [fill: string, litres: number]>): Pick<Parts, "byFill"> {
  const left = [...entries].filter(([, litres]) => Math.abs(litres) > leastL);
  return left.length === 0 ? {} : { byFill: Object.fromEntries(left) };
}

const scaled = ({ byFill = {} }: Parts, factor: number): Pick<Parts, "byFill"> =>
  byFillOf(Object.entries(byFill).map(([fill, litres]) => [fill, litres * factor] as const));

/** Less of an emptied drum's rest, or of what a meter may have missed, changes nothing any more, uS/cm × L. */
const leastDose = 1;
const leastShortDose = 0.001;

const restOf = (restDose: number): Pick<Parts, "restDose"> => (restDose > leastDose ? { restDose } : {});
const shortOf = (shortDose: number): Pick<Parts, "shortDose"> =>
  Math.abs(shortDose) > leastShortDose ? { shortDose } : {};

function added(a: Parts, b: Parts): Pick<Parts, "byFill"> {
  if (!a.byFill || !b.byFill) return byFillOf(Object.entries(a.byFill ?? b.byFill ?? {}));
  const sum = new Map(Object.entries(a.byFill));
  for (const [fill, litres] of Object.entries(b.byFill)) sum.set(fill, (sum.get(fill) ?? 0) + litres);
  return byFillOf(sum);
}

function plus(a: Parts, b: Parts): Parts {
  return {
    ...added(a, b),
    ...restOf((a.restDose ?? 0) + (b.restDose ?? 0)),
    ...shortOf((a.shortDose ?? 0) + (b.shortDose ?? 0)),
    watchedL: a.watchedL + b.watchedL,
    dose: a.dose + b.dose,
    unwatchedL: a.unwatchedL + b.unwatchedL,
    ownL: a.ownL + b.ownL,
  };
}

/** A share of parts. */
export function times(parts: Parts, factor: number): Parts {
  return {
    ...scaled(parts, factor),
    ...restOf((parts.restDose ?? 0) * factor),
    ...shortOf((parts.shortDose ?? 0) * factor),
    watchedL: parts.watchedL * factor,
    dose: parts.dose * factor,
    unwatchedL: parts.unwatchedL * factor,
    ownL: parts.ownL * factor,
  };
}

/** All of it together. */
export const whole = ({ base, since }: Book): Parts => plus(base, since);
/** Litres of all parts together. */
export const litresIn = ({ watchedL, unwatchedL, ownL }: Parts): number => watchedL + unwatchedL + ownL;

/** κ25 × litres at its worst, of what nobody watched and of the drum's own, uS/cm × L: unwatched water at `feed25`, its own at its band. */
export const worstDose = (
  { dose, unwatchedL, ownL, restDose = 0, shortDose = 0 }: Parts,
  { feed25, own25 }: { readonly feed25: number; readonly own25: number },
): number => dose + shortDose + unwatchedL * feed25 + Math.max(ownL * own25, restDose);

/** κ25 at its worst of what was watched, uS/cm; 0 where nothing was. */
export const worstSeen25 = (parts: Parts): number => {
  const { watchedL, dose, shortDose = 0 } = parts;
  // What came in uncounted took the place of all that was there, not of watched water alone.
  return watchedL > leastL ? Math.max(dose / watchedL, (dose + shortDose) / litresIn(parts)) : 0;
};

/** A drum of which nothing is known but that it holds `litres` at most. */
export function unknownBook(litres: number, isTight: boolean): Book {
  return { base: { ...nothing, ownL: litres }, since: nothing, isTight };
}

/** Water comes in. */
export function pour(book: Book, parts: Parts): Book {
  return { ...book, since: plus(book.since, parts) };
}

/** A draw of `litres` that was seen: everything in the drum gets less by the same share. */
export function draw(book: Book, litres: number): Book {
  const inIt = litresIn(whole(book));
  const left = inIt > 0 ? Math.max(0, 1 - litres / inIt) : 0;
  return { ...book, base: times(book.base, left), since: times(book.since, left) };
}

/**
 * As much came in as was drawn, `litres`, while what the drum held went down from `topL` to what is booked now: an ideal mixer keeps
 * exp(−litres ÷ V) of it, V the logarithmic mean of both. What came in is poured apart; `spentL` of that was drawn too.
 */
export function drawThrough(
  book: Book,
  litres: number,
  topL: number,
): { readonly book: Book; readonly spentL: number } {
  const nowL = litresIn(whole(book));
  if (!(nowL > 0 && litres > 0)) return { book, spentL: 0 };
  const meanL = topL > nowL + leastL ? (topL - nowL) / Math.log(topL / nowL) : nowL;
  const left = Math.exp(-litres / meanL);
  return {
    book: { ...book, base: times(book.base, left), since: times(book.since, left) },
    spentL: litres - (1 - left) * nowL,
  };
}

/** Brings parts to `litres` in all: what is not watched stays, the dose too; watched water makes up the rest. */
function fitted(parts: Parts, litres: number): Parts {
  const { unwatchedL, ownL, dose } = parts;
  const unknownL = Math.min(litres, unwatchedL + ownL);
  const share = unwatchedL + ownL > 0 ? unknownL / (unwatchedL + ownL) : 0;
  return {
    ...scaled(parts, share),
    ...restOf((parts.restDose ?? 0) * share),
    ...shortOf(parts.shortDose ?? 0),
    watchedL: Math.max(0, litres - unknownL),
    dose,
    unwatchedL: unwatchedL * share,
    ownL: ownL * share,
  };
}

/**
 * The most κ25 × litres that what was watched leaves in `litres` of what is booked: the rest was drawn before what came since,
 * or after it. Water that stays as it is leaves what it was: the greater share of each would make it worse with each fill.
 */
function mostDose({ base, since }: Book, litres: number): number {
  const [oldL, newL] = [litresIn(base), litresIn(since)];
  const after = ((base.dose + since.dose) * litres) / (oldL + newL);
  const leftL = litres - newL;
  if (!(newL > 0)) return after;
  return Math.max(after, leftL > 0 ? (base.dose * leftL) / oldL + since.dose : (since.dose * litres) / newL);
}

/** What may be in it beside: of the old water by as much of that as is left, of what came since the last anchor in whole. */
function shortLeft({ base, since }: Book, litres: number): number {
  const oldL = litresIn(base);
  const left = oldL > 0 ? Math.max(0, litres - litresIn(since)) / oldL : 0;
  return (base.shortDose ?? 0) * left + (since.shortDose ?? 0);
}

/**
 * The drum is known to hold `litres`. Less than was booked: it was drawn from unseen, so what nobody watched of the old
 * water counts by that share, and of what came in since the last anchor in whole. More by over `slackL`: the rest came in
 * unwatched.
 */
export function anchor(book: Book, litres: number, slackL: number): Book {
  const bookedL = litresIn(whole(book));
  if (bookedL > litres) {
    const old = times(book.base, litres / bookedL);
    const { shortDose: _, ...base } = fitted(plus(old, book.since), litres);
    const left = { ...base, ...shortOf(shortLeft(book, litres)), dose: mostDose(book, litres) };
    return { base: left, since: nothing, isTight: book.isTight };
  }
  const moreL = litres - bookedL;
  const all = whole(book);
  if (moreL <= slackL || bookedL === 0) {
    const factor = bookedL > 0 ? litres / bookedL : 0;
    const base = bookedL > 0 ? times(all, factor) : { ...nothing, ownL: litres };
    return { base, since: nothing, isTight: book.isTight };
  }
  return { base: { ...all, unwatchedL: all.unwatchedL + moreL }, since: nothing, isTight: book.isTight };
}

/** Unwatched water of up to `mostL` came in, `guessL` more than was drawn meanwhile; under a name where it may be taken back. */
export function pourUnseen(book: Book, mostL: number, guessL: number, name?: string): Book {
  const all = whole(book);
  const litres = litresIn(all) + guessL;
  const dosePerL = all.watchedL > 0 ? all.dose / all.watchedL : 0;
  const named = name === undefined ? all : plus(all, { ...nothing, byFill: { [name]: mostL } });
  const { shortDose = 0, ...base } = fitted({ ...named, unwatchedL: all.unwatchedL + mostL }, litres);
  const left = all.watchedL > 0 ? base.watchedL / all.watchedL : 0;
  return {
    base: { ...base, ...shortOf(shortDose * left), dose: base.watchedL * dosePerL },
    since: nothing,
    isTight: false,
  };
}

/**
 * Of a fill's water that nobody had seen, `share` was seen after all, at `kappa25`: as much of what is left of it in the
 * drum.
 */
export function seeLate(
  book: Book,
  fill: string,
  { share, kappa25 }: { readonly share: number; readonly kappa25: number },
): Book {
  const { unwatchedL, byFill = {} } = whole(book);
  const owedL = (byFill[fill] ?? 0) * share;
  if (!(owedL > 0)) return book;
  const part = share * Math.min(1, unwatchedL / owedL);
  const seen = (parts: Parts): Parts => {
    const litres = (parts.byFill?.[fill] ?? 0) * part;
    return plus(parts, {
      watchedL: litres,
      dose: litres * kappa25,
      unwatchedL: -litres,
      ownL: 0,
      byFill: { [fill]: -litres },
    });
  };
  return { ...book, base: seen(book.base), since: seen(book.since) };
}

/**
 * Water that was poured unseen under a name did not come in: of what is left of it in the drum, `gained` of each litre goes,
 * and the rest was what the drum held before (`wasPerL`).
 */
export function takeBack(
  book: Book,
  name: string,
  { gained, wasPerL }: { readonly gained: number; readonly wasPerL: Parts },
): Book {
  const { unwatchedL, byFill = {} } = whole(book);
  const namedL = byFill[name] ?? 0;
  if (!(namedL > 0)) return book;
  const left = Math.min(1, unwatchedL / namedL);
  const without = (parts: Parts): Parts => {
    const litres = (parts.byFill?.[name] ?? 0) * left;
    const restored = times(wasPerL, litres * (1 - gained));
    const gone = { ...nothing, unwatchedL: -litres, byFill: { [name]: -(parts.byFill?.[name] ?? 0) } };
    return plus(plus(parts, restored), gone);
  };
  return { ...book, base: without(book.base), since: without(book.since) };
}

/**
 * No drum holds more than its volume: more was booked than it can hold, so some was drawn. What came in since the last anchor
 * goes in whole, and of what was there before each part counts by its share; but nobody knows whether it was drawn before the
 * new water came: what is not watched of it stays, and less of the watched new water is left.
 */
export function withinVolume(book: Book, volumeL: number): Book {
  const bookedL = litresIn(whole(book));
  if (bookedL <= volumeL) return book;
  const { since } = book;
  const sinceL = litresIn(since);
  if (sinceL >= volumeL) return { ...anchor(book, volumeL, 0), isTight: false };
  const old = times(book.base, volumeL / bookedL);
  const baseL = Math.max(volumeL - sinceL, old.unwatchedL + old.ownL);
  const overL = Math.min(since.watchedL, Math.max(0, baseL + sinceL - volumeL));
  const share = since.watchedL > 0 ? 1 - overL / since.watchedL : 1;
  const left = { ...since, watchedL: since.watchedL * share, dose: since.dose * share };
  const base = fitted(old, Math.min(baseL, volumeL - sinceL + overL));
  const dose = Math.max(0, mostDose(book, volumeL) - left.dose);
  return { base: { ...base, dose }, since: left, isTight: false };
}

/** A fill that nothing ended at a known height: what it brought is drawn from like all else. */
export const mixed = (book: Book): Book => ({ ...book, base: whole(book), since: nothing });
