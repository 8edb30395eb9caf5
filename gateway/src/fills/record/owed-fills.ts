import type { Fill } from "../fill.ts";
import { longestMs } from "../runs/long-call.ts";
import type { SeenShares, Stretch, UnseenStretch } from "./account.ts";
import { type Readings, seenIn } from "./kappa-trace.ts";
import type { OpenFill } from "./open-fill.ts";
import type { OverLimit } from "./over-limit.ts";
import type { Standstill } from "./standstill.ts";

/** Fills of a drum that may wait for what its probe's node has kept, and for how long after their end. */
const maxOwed = 24;
const owedMs = 36 * 3_600_000;
/** Stretches that follow one another are taken together up to this length: a fill's water runs evenly. */
const togetherMs = 5 * 60_000;
/** From this share on a stretch counts as seen whole. */
const wholeShare = 0.999;
/** A fill of which less was not seen waits for nothing: its last reading speaks for a few seconds only. */
const leastShare = 0.02;
/** Of a fill whose litres nobody knows so much has to be unseen that the word counts it whole. */
const leastShareUnmeasured = 0.05;
/** A call as it was learned and as it was told differ by no more. */
const itselfMs = 60_000;

/** A fill that was told while something of it was not seen: what its probe's node kept may yet tell. Plain data. */
export interface OwedFill {
  readonly fill: Fill;
  /** With their shares of the fill. */
  readonly unseen: readonly (UnseenStretch & { readonly ofFill: number })[];
  /** When its water stood; absent: never, or a row of versions before. */
  readonly standstills?: readonly Standstill[];
  /** From then on its float called for longer than ever: whether water ran is not known. Absent: it did not. */
  readonly doubtedFromMs?: number;
  /** Something more was seen than the fill was told with. */
  readonly hasGrown: boolean;
}

/** How far what came late of fills that are over has been judged. Plain data. */
export interface JudgedLate {
  readonly over: OverLimit;
  /** The fill that was judged last. */
  readonly fill: string;
  readonly startedAtMs: number;
  readonly endedAtMs: number;
  /** First water that had run before it and counts with it, ms. */
  readonly carriedMs: number;
}

/** How far readings that came after later ones have been judged, of one fill. Plain data. */
export interface JudgedHole {
  readonly fill: string;
  readonly over: OverLimit;
}

function sharesIn({ fromMs, toMs }: Pick<Stretch, "fromMs" | "toMs">, by: Readings): SeenShares {
  const shares = { watched: 0, bridged: 0, dose: 0, watchedDose: 0 };
  for (const { share, kappa25, bridged } of seenIn(by, fromMs, toMs)) {
    shares.dose += share * kappa25;
    shares[bridged ? "bridged" : "watched"] += share;
    if (!bridged) shares.watchedDose += share * kappa25;
  }
  return shares;
}

const isSeen = ({ watched, bridged }: SeenShares) => watched + bridged >= wholeShare;

function together(one: UnseenStretch, next: UnseenStretch): UnseenStretch {
  const [first, second] = [one.toMs - one.fromMs, next.toMs - next.fromMs];
  const whole = Math.max(1, first + second);
  const mean = (key: keyof SeenShares) => (one[key] * first + next[key] * second) / whole;
  return {
    fromMs: one.fromMs,
    toMs: next.toMs,
    litres: one.litres === null || next.litres === null ? null : one.litres + next.litres,
    watched: mean("watched"),
    bridged: mean("bridged"),
    dose: mean("dose"),
    watchedDose: mean("watchedDose"),
  };
}

/** Remembers a stretch that is booked now, where something of it was not seen. */
export function markUnseen(open: OpenFill, { fromMs, toMs, litres }: Stretch, by: Readings): void {
  const shares = sharesIn({ fromMs, toMs }, by);
  if (isSeen(shares)) return;
  const stretch: UnseenStretch = { fromMs, toMs, litres, ...shares };
  const { unseen = [] } = open;
  const last = unseen.at(-1);
  const goesOn = last?.toMs === fromMs && toMs - last.fromMs <= togetherMs;
  open.unseen = goesOn ? [...unseen.slice(0, -1), together(last, stretch)] : [...unseen, stretch];
}

/** When a call that nothing but its float told of had outlasted all others; null: it had not. */
function outlastedMs({ basis, startedAtMs, endedAtMs }: Fill, callsMs: readonly number[]): number | null {
  if (basis !== "calling-float" || endedAtMs === null) return null;
  const ms = endedAtMs - startedAtMs;
  // It may have been learned itself by now.
  const own = callsMs.findLastIndex((one) => Math.abs(one - ms) <= itselfMs);
  const others = own === -1 ? callsMs : callsMs.toSpliced(own, 1);
  return ms > longestMs(others) ? startedAtMs + longestMs(others) : null;
}

/**
 * The fills of a drum that wait, with one that has ended, in place of what was told of it before it went on; null: as before,
 * nothing of it is owed. `callsMs`: how long its calls last.
 */
export function owe(
  owed: readonly OwedFill[],
  open: OpenFill,
  fill: Fill,
  callsMs: readonly number[],
): readonly OwedFill[] | null {
  const others = owed.filter((one) => one.fill.id !== fill.id);
  const withoutIt = others.length < owed.length ? others : null;
  const { unseen = [], litres, minutes, knowsLitres } = open;
  const byLitres = knowsLitres && litres.came > 0 && unseen.every((one) => one.litres !== null);
  const partOf = (one: UnseenStretch) =>
    byLitres ? (one.litres ?? 0) : Math.max(0, one.toMs - one.fromMs) / 60_000;
  const whole = byLitres
    ? Math.max(
        litres.came,
        unseen.reduce((sum, one) => sum + partOf(one), 0),
      )
    : minutes.came;
  // Where its witnesses contradict each other, nobody knows whether it was a fill.
  if (unseen.length === 0 || fill.flowUnknown || !(whole > 0)) return withoutIt;
  const waits = unseen.map((one) => ({ ...one, ofFill: Math.min(1, partOf(one) / whole) }));
  const share = waits.reduce(
    (sum, { ofFill, watched, bridged }) => sum + ofFill * (1 - watched - bridged),
    0,
  );
  if (share < (fill.litres === null ? leastShareUnmeasured : leastShare)) return withoutIt;
  const lately = others.filter((one) => (one.fill.endedAtMs ?? 0) > (fill.endedAtMs ?? 0) - owedMs);
  const doubtedFromMs = outlastedMs(fill, callsMs);
  const one: OwedFill = {
    fill,
    unseen: waits,
    ...(open.standstills ? { standstills: open.standstills } : {}),
    ...(doubtedFromMs === null ? {} : { doubtedFromMs }),
    hasGrown: false,
  };
  return [...lately, one].slice(-maxOwed);
}

/** The fill with what was seen of one of its stretches since. */
function withSeen(fill: Fill, was: SeenShares & { readonly ofFill: number }, now: SeenShares): Fill {
  const known = fill.known ?? fill.watched;
  const more = (key: keyof SeenShares) => (now[key] - was[key]) * was.ofFill;
  const watched = Math.min(1, fill.watched + more("watched"));
  const nowKnown = Math.min(1, known + more("watched") + more("bridged"));
  const dose = (fill.dose25 ?? 0) * known + more("dose");
  const watchedDose = (fill.mean25 ?? 0) * fill.watched + more("watchedDose");
  return {
    ...fill,
    watched,
    known: nowKnown,
    dose25: nowKnown > 0 ? dose / nowKnown : null,
    mean25: watched > 0 ? watchedDose / watched : null,
  };
}

/** Goes on with a waiting fill by readings that came late, up to the last of them. */
function follow(owed: OwedFill, by: Readings, heardMs: number): OwedFill {
  let { fill, hasGrown } = owed;
  const left = owed.unseen.filter((stretch) => {
    if (stretch.toMs >= heardMs) return true;
    const now = sharesIn(stretch, by);
    // Of litres that nobody knows, what was seen of them tells nothing.
    if (fill.litres !== null && now.watched + now.bridged > stretch.watched + stretch.bridged) {
      fill = withSeen(fill, stretch, now);
      hasGrown = true;
    }
    return false;
  });
  return left.length === owed.unseen.length ? owed : { ...owed, fill, unseen: left, hasGrown };
}

/** What is left to wait for once readings came late, and the fills of which everything is in: seen better than told. */
export function settleOwed(
  owed: readonly OwedFill[],
  by: Readings,
): { readonly left: readonly OwedFill[]; readonly told: readonly Fill[] } {
  const heardMs = by.trace.findLast(({ kappa25 }) => kappa25 !== null)?.tMs ?? Number.NEGATIVE_INFINITY;
  const followed = owed.map((one) => follow(one, by, heardMs));
  if (followed.every((one, index) => one === owed[index])) return { left: owed, told: [] };
  return {
    left: followed.filter(({ unseen }) => unseen.length > 0),
    told: followed.filter(({ unseen, hasGrown }) => unseen.length === 0 && hasGrown).map(({ fill }) => fill),
  };
}
