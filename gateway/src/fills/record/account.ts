import { type Readings, seenIn } from "./kappa-trace.ts";

/** A stretch of inflow that waits for the readings round it. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
  /** Null where nothing tells litres. */
  readonly litres: number | null;
  readonly isFirst: boolean;
}

/** How a stretch was seen, as shares of it; `dose`: κ25 × share, of what was bridged too. */
export interface SeenShares {
  readonly watched: number;
  readonly bridged: number;
  readonly dose: number;
  readonly watchedDose: number;
}

/** A stretch of a fill of which something was not seen. Plain data. */
export interface UnseenStretch extends SeenShares {
  readonly fromMs: number;
  readonly toMs: number;
  /** Null where nothing tells litres. */
  readonly litres: number | null;
}

/** What came in, in litres or in minutes, and what was seen of it. Plain data. */
export interface Account {
  came: number;
  watched: number;
  /** Not seen, but between two good readings. */
  bridged: number;
  /** κ25 × amount of what was watched and bridged. */
  dose: number;
  watchedDose: number;
  first: number;
  firstDose: number;
  /** Of what was watched and bridged, what was over the drum's band, and κ25 × amount of it; absent: nothing, or a row of versions before. */
  over?: number;
  overDose?: number;
}

/** Nothing has come in yet. */
export const newAccount = (): Account => ({
  came: 0,
  watched: 0,
  bridged: 0,
  dose: 0,
  watchedDose: 0,
  first: 0,
  firstDose: 0,
});

/** Books a stretch of inflow by how it was seen. */
export function book(account: Account, amount: number, stretch: Stretch, by: Readings): void {
  account.came += amount;
  for (const { share, kappa25, bridged } of seenIn(by, stretch.fromMs, stretch.toMs)) {
    const part = amount * share;
    account.dose += part * kappa25;
    if (by.band25 != null && kappa25 > by.band25) {
      account.over = (account.over ?? 0) + part;
      account.overDose = (account.overDose ?? 0) + part * kappa25;
    }
    if (bridged) {
      account.bridged += part;
      continue;
    }
    account.watched += part;
    account.watchedDose += part * kappa25;
    if (!stretch.isFirst) continue;
    account.first += part;
    account.firstDose += part * kappa25;
  }
}

/** Brings the whole account to another total: a level tells what came in better when it stands than on its way. */
export function rescale(account: Account, came: number): void {
  if (!(account.came > 0)) return;
  const factor = came / account.came;
  for (const key of Object.keys(account) as (keyof Account)[]) account[key] = (account[key] ?? 0) * factor;
}
