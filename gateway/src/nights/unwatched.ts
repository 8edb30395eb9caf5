import type { Fill } from "../fills/index.ts";
import { nodeOf } from "../line/index.ts";
import type { Gap } from "./facts.ts";
import type { Unwatched } from "./night.ts";

/** Channels of one node that fall silent and come back within this time of one another have one cause. */
const togetherMs = 90_000;

/** A stretch of time, epoch ms. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Time that spans cover together, inside one, ms. */
export function coveredMs(spans: readonly Span[], within: Span): number {
  const inside = spans
    .map(({ fromMs, toMs }) => ({
      fromMs: Math.max(fromMs, within.fromMs),
      toMs: Math.min(toMs, within.toMs),
    }))
    .filter(({ fromMs, toMs }) => fromMs < toMs)
    .sort((a, b) => a.fromMs - b.fromMs);
  let [sumMs, upToMs] = [0, within.fromMs];
  for (const { fromMs, toMs } of inside) {
    if (toMs <= upToMs) continue;
    sumMs += toMs - Math.max(fromMs, upToMs);
    upToMs = toMs;
  }
  return sumMs;
}

const areNear = (a: number | null, b: number | null) =>
  a === null || b === null ? a === b : Math.abs(a - b) <= togetherMs;

/** What nobody heard, by the gateway or by node, oldest first: channels of a node that were gone together are one. */
export function unwatchedOf(
  gaps: readonly Gap[],
  fills: readonly Fill[],
  within: Span,
): readonly Unwatched[] {
  const found: { who: string; fromMs: number; toMs: number | null; channels: string[] }[] = [];
  for (const { of, subject, fromMs, toMs } of [...gaps].sort((a, b) => a.fromMs - b.fromMs)) {
    const who = of === "gateway" ? of : nodeOf(subject);
    const known = found.find(
      (one) => one.who === who && areNear(one.fromMs, fromMs) && areNear(one.toMs, toMs),
    );
    if (!known) found.push({ who, fromMs, toMs, channels: of === "gateway" ? [] : [subject] });
    else {
      if (!known.channels.includes(subject)) known.channels.push(subject);
      known.toMs = known.toMs === null || toMs === null ? null : Math.max(known.toMs, toMs);
    }
  }
  return found.map((one) => ({
    ...one,
    fills: fills
      .filter(
        ({ startedAtMs, endedAtMs }) =>
          startedAtMs < (one.toMs ?? within.toMs) && (endedAtMs ?? within.toMs) > one.fromMs,
      )
      .map(({ id }) => id),
  }));
}
