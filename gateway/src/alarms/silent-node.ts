import { nodeCell } from "../readings/index.ts";
import type { Look, Verdict } from "./condition.ts";
import type { NodeDrums } from "./drums-on-node.ts";
import { allowedMs, isPaceUnknown, missedAtMs, silentSinceMs } from "./node-silence.ts";
import { asksNow, fillsNow } from "./unseen-fill.ts";

/** How long a node may say nothing. */
export interface SilenceLimits {
  /** Null: 12 periods of the node, at least 60 s. */
  readonly after_s: number | null;
}

/** A node is looked at with the drums that it watches. */
type SilenceLook = Look<SilenceLimits, NodeDrums>;

const leastMs = 60_000;
const usual = { periods: 12, leastMs } as const;
/** Of a drum that fills, what was heard of the node's spacing allows no more than what makes its readings old. */
const filling = { ...usual, heard: 3 } as const;
/** Its first pack came, and nobody knows how seldom it sends. */
const unknownMs = 5 * 60_000;

/** How long nothing was heard of the node, ms; 0 where it was never heard. */
export function silentForMs({ board, subject, nowMs, startedMs }: SilenceLook): number {
  return nowMs - (silentSinceMs(board.get(nodeCell, subject.id), startedMs) ?? nowMs);
}

/** Whether a node says nothing more, and when to look again. */
export function judgeSilence(look: SilenceLook): Verdict {
  const { board, subject, place, limits, nowMs, standing } = look;
  const node = board.get(nodeCell, subject.id);
  if (!node || node.lastSeenMs === null) return { is: "unknown", value: null, because: "never-heard" };
  const isFilling = place.all.some(fillsNow(board)) || place.all.some(asksNow(board));
  // Once told it stays so, whatever ends meanwhile.
  const isStrict = isFilling || standing !== null;
  const leastKnownMs = !isStrict && isPaceUnknown(node) ? unknownMs : 0;
  const allowed = Math.max(leastKnownMs, allowedMs(node, isStrict ? filling : usual));
  const limitMs = limits.after_s === null ? allowed : limits.after_s * 1000;
  const silentMs = silentForMs(look);
  const dueMs = missedAtMs(node, nowMs - silentMs, limitMs);
  const isSilent = standing !== null ? silentMs >= limitMs : dueMs <= nowMs;
  // While it is silent and a drum on it fills its attention may rise.
  const isLookedAt = !isSilent || isFilling;
  const value = Math.round(silentMs / 1000);
  const limit = limitMs / 1000;
  const tMs = node.lastSeenMs;
  if (!isLookedAt) return { is: isSilent, value, limit, tMs };
  // By the minute of its silence: whoever looks in between moves nothing.
  const againAtMs = isSilent
    ? nowMs + leastMs - (silentMs % leastMs)
    : standing !== null
      ? nowMs - silentMs + limitMs
      : dueMs;
  return { is: isSilent, value, limit, tMs, againAtMs };
}
