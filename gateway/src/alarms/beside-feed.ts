import { feedBefore, isBehindMembrane, runCell } from "../fills/index.ts";
import { compileLine, type Line, type Slot, settingsOf } from "../line/index.ts";
import { latestCell } from "../measurements/index.ts";
import type { BoardView } from "../path/index.ts";
import type { Condition, Heard } from "./condition.ts";
import { kappa25 } from "./point-and-feed.ts";
import { lastReadingOf, series } from "./reading-of.ts";

/** A channel, and what resin or membrane before it are fed with. */
export interface ChannelBesideFeed {
  /** What the channel gives first: its flag tells. */
  readonly own: string;
  /** The point whose flow it needs to be judged; null where it needs none. */
  readonly point: string | null;
  /** κ25 here and before resin or membrane, where both are measured. */
  readonly own25: string | null;
  readonly feed25: string | null;
}

/** Over so many times what it is fed with, no medium lets through: the probe is wrong (common practice, no source). */
export const usualFeedTimes = 1.2;
const maxFeedAgeMs = 3_600_000;

/** Over how many times its feed a channel of the line is taken to be wrong. */
export function feedTimesOf(line: Line, channel: string): number {
  const { feed_times } = settingsOf(line, "probe-implausible", channel);
  return typeof feed_times === "number" ? feed_times : usualFeedTimes;
}

/** Where a channel of the line stands. */
export function besideFeed(line: Line, channel: string): ChannelBesideFeed {
  const compiled = compileLine(line);
  const { use, subject, series: all } = compiled.slotOf.get(channel) as Slot;
  const isKappa = (use.signal === "conductivity" || use.signal === "solids") && subject.kind === "point";
  const at = isKappa ? compiled.points.get(subject.id) : undefined;
  const feed =
    at?.resinFeedProbe?.id ?? (at && isBehindMembrane(line, at.id) ? feedBefore(line, at.id) : null);
  return {
    own: all[0]?.name ?? "",
    point: isKappa ? subject.id : null,
    own25: isKappa ? kappa25(subject.id) : null,
    feed25: feed === null ? null : kappa25(feed),
  };
}

/** A feed that falls by less than to this share of itself is looked at as if it stood there. */
const steadyShare = 0.8;

/** Within what neither the channel fails nor comes over its feed. */
export function calmBesideFeed(
  board: BoardView,
  { own, own25, feed25 }: ChannelBesideFeed,
  times: number,
): ReturnType<NonNullable<Condition<unknown, unknown>["calmWithin"]>> {
  if (own25 === null || feed25 === null) return [{ series: own }];
  const feed = board.get(latestCell, feed25)?.measurement.value ?? null;
  if (feed === null) return null;
  const low = steadyShare * feed;
  const beside = [
    { series: own25, high: steadyShare * times * low },
    { series: feed25, low },
  ];
  return own === own25 ? beside : [{ series: own }, ...beside];
}

/** What tells anew of such a channel: itself, its κ25, and the run that it is judged in. */
export const hearsBesideFeed = ({ own, own25, point }: ChannelBesideFeed): readonly Heard[] => [
  series(own),
  ...(own25 === null || own25 === own ? [] : [series(own25)]),
  ...(point === null ? [] : [{ cell: runCell, key: point }]),
];

/** Whether what comes out reads over so many times what goes in: no medium does that, a probe does. */
export function isOverFeed(
  board: BoardView,
  { own25, feed25 }: ChannelBesideFeed,
  times: number,
  nowMs: number,
): boolean {
  const kappa = own25 === null ? null : lastReadingOf(board, own25, nowMs, maxFeedAgeMs);
  const feed = feed25 === null ? null : lastReadingOf(board, feed25, nowMs, maxFeedAgeMs);
  return kappa !== null && feed !== null && kappa.value > times * feed.value;
}
