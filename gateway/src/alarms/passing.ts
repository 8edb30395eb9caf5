import { feedCell, runCell } from "../fills/index.ts";
import { compileLine, type Line, type LineStage } from "../line/index.ts";
import type { Cell } from "../path/index.ts";
import { feedTimesOf, usualFeedTimes } from "./beside-feed.ts";
import type { Condition, Look, Verdict } from "./condition.ts";
import { isByTime, isFirstWater } from "./flow-gate.ts";
import { overLimit } from "./held-against.ts";
import type { OneLimitOrNone } from "./one-limit.ts";
import { feedReading, type PointAndFeed, pointAndFeed } from "./point-and-feed.ts";
import { readingOf } from "./reading-of.ts";
import type { AlarmSubject } from "./subject.ts";

/** Gross: over so many times the limit, or over this share of what the medium is fed with. */
const grossTimes = 10;
const grossShareOfFeed = 0.5;
const maxFeedAgeMs = 10 * 60_000;
/** Without any word on flow the water may stand: only what is so many times the limit is judged. */
const byTimeTimes = 3;
/** … and time has to stand in for settling and delay together. */
const onByTime = { judgedMs: 5 * 60_000, readings: 3 };

/** Where a medium lets too much through. */
export interface PassingPlace extends PointAndFeed {
  /** The point of that feed. */
  readonly feedAt: string | null;
  readonly feedsByItself: boolean;
  /** What reads over so many times that feed is told of as the probe (`probe-implausible`). */
  readonly feedTimes: number;
}

/** uS/cm at 25 °C; null: by what the medium is fed with. */
export type PassingLimits = OneLimitOrNone;

/** What a condition looks at that judges what a medium lets through. */
type PassingLook = Look<PassingLimits, PassingPlace>;

/** What differs from medium to medium. */
export interface Passing
  extends Pick<Condition<PassingLimits, PassingPlace>, "id" | "words" | "defaults" | "subjects"> {
  /** The point whose probe sees what the medium is fed with. */
  feedAt(line: Line, point: string): string | null;
  /** The limit now, uS/cm; null while it can't be told. */
  limitNow(look: PassingLook): number | null;
  /** Cells that the limit is told by. */
  readonly limitBy: readonly Cell<unknown>[];
  /** Stages whose change ends it: what they let through is another medium's now. */
  media(line: Line, point: string): readonly LineStage[];
  /** What it brings about beside water in drums that is off. */
  readonly alsoCauses?: NonNullable<Condition<PassingLimits, PassingPlace>["causes"]>;
}

const drumsBehind = (line: Line, point: string) => compileLine(line).points.get(point)?.drumsBehind ?? [];

/** Drums that are filled with what passes a point. */
export const idsOfDrumsBehind = (line: Line, { id }: AlarmSubject): readonly string[] =>
  drumsBehind(line, id).map(({ drum }) => drum.id);

/** A point behind a medium whose feed is measured at `feedAt`; null: nowhere. */
export function passingPlace(line: Line, point: string, feedAt: string | null): PassingPlace {
  const feedsByItself = drumsBehind(line, point).some(({ drum }) => drum.feeds === "automatic");
  const channel = compileLine(line).points.get(point)?.point.conductivity ?? null;
  const feedTimes = channel === null ? usualFeedTimes : feedTimesOf(line, channel);
  return { ...pointAndFeed(point, feedAt), feedAt, feedsByItself, feedTimes };
}

type Made<Plain> = { -readonly [Key in keyof Plain]: Plain[Key] };

/** The feed's median of 24 h, uS/cm: what comes out went in a while before, and the feed may have changed since. */
const usualFeed = (board: PassingLook["board"], { feedAt }: PassingPlace): number =>
  feedAt === null ? 0 : (board.get(feedCell, feedAt)?.median25 ?? 0);

/**
 * Whether a value is the probe's fault: no medium gives so many times what it is fed with. A feed of little more than pure
 * water may itself be a probe in air: it excuses nothing.
 */
const isProbeFault = (
  value: number,
  feed25: number,
  { limit, place }: { readonly limit: number; readonly place: PassingPlace },
): boolean => feed25 > grossTimes * limit && value > place.feedTimes * feed25;

/** What comes out of a medium against its limit now, uS/cm; null while the limit can't be told. */
export function judgePassing({ board, place, nowMs }: PassingLook, limit: number | null): Verdict {
  const reading = readingOf(board, place.own);
  if (!reading || limit === null) return overLimit(reading, limit);
  const { value, tMs } = reading;
  const feed = feedReading(board, place, nowMs, maxFeedAgeMs);
  if (feed && isProbeFault(value, Math.max(feed.value, usualFeed(board, place)), { limit, place }))
    return { is: "unknown", value, limit, tMs };
  const half = feed ? Math.max(feed.value * grossShareOfFeed, limit) : Number.POSITIVE_INFINITY;
  const run = board.get(runCell, place.point);
  const byTime = isByTime(run);
  const verdict: Made<Verdict> = {
    is: value > (byTime ? byTimeTimes * limit : limit),
    value,
    limit,
    beyond: value - limit,
    tMs,
  };
  if (!isFirstWater(run)) verdict.gross = value > grossTimes * limit || value > half;
  if (byTime) verdict.on = onByTime;
  return verdict;
}
