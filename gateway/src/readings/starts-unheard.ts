import type { NodeSpacing } from "./node-spacing.ts";

/** Starts of the gateway in one silence of a node. Plain data. */
export interface StartsUnheard {
  readonly count: number;
  /** For how long the gateway could not hear it, ms. */
  readonly awayMs: number;
  /** The last start that leaves it time to connect again, gateway time. */
  readonly lastMs: number;
}

/** So many starts in one silence are taken for starts; more of them, one soon after the other, hide nothing. */
const mostStarts = 3;
/** A gateway that heard nothing for so long, and for so many periods, was away: it would have told of the silence. */
const longAwayMs = 15 * 60_000;
const longAwayPeriods = 12;

/** What of a node tells how long it may be silent. */
interface Paced {
  readonly periodMs: number | null;
  readonly spacing?: NodeSpacing | undefined;
  readonly starts?: StartsUnheard | undefined;
}

/**
 * Starts in a node's silence after another one at `atMs`, of a gateway that had heard or done nothing since `lastMs`. One
 * that fails and starts again and again hears nothing in between either: what lies between its starts counts as silence
 * from the fourth on.
 */
export function startsAfter(
  { periodMs, spacing, starts }: Paced,
  lastMs: number,
  atMs: number,
): StartsUnheard | undefined {
  const goneMs = atMs - lastMs;
  // Begun from records alone it does not know when it was last there.
  if (goneMs <= 0) return starts;
  const isLong = goneMs > Math.max(longAwayMs, longAwayPeriods * Math.max(periodMs ?? 0, spacing?.ms ?? 0));
  const count = isLong ? 1 : (starts?.count ?? 0) + 1;
  if (starts && count > mostStarts) return starts;
  return { count, awayMs: (starts?.awayMs ?? 0) + goneMs, lastMs: atMs };
}
