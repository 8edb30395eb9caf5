import { newsForMs } from "./due.ts";

/** What came of a try to deliver a message. */
export type Delivery =
  | { readonly delivered: true }
  | {
      readonly delivered: false;
      /** Trying the same again is of no use: refused for good, or nobody lives there any more. */
      readonly forGood: boolean;
      /** In plain words; names no secret. */
      readonly why: string;
      /** The other side asks not to be tried before, ms from now. */
      readonly afterMs?: number;
    };

const firstMs = 15_000;
const maxMs = 30 * 60_000;
/** What wakes somebody does not wait so long. */
const maxWakingMs = 2 * 60_000;
/** A try is moved by up to so much of its wait, either way, so that many don't come at once. */
const jitter = 0.25;

/**
 * How long to wait after the `tries`-th try, ms: 15 s, doubled each time up to 30 min (2 min for what wakes), ± 25 %.
 * `random` in [0, 1).
 */
export function waitMs(tries: number, wakes: boolean, random: number): number {
  const usual = Math.min(wakes ? maxWakingMs : maxMs, firstMs * 2 ** Math.max(0, tries - 1));
  return Math.round(usual * (1 + jitter * (2 * random - 1)));
}

/** Whether a message is given up: refused for good, or tried for a day. */
export const isGivenUp = (madeMs: number, nowMs: number, delivery: Delivery): boolean =>
  !delivery.delivered && (delivery.forGood || nowMs - madeMs >= newsForMs);
