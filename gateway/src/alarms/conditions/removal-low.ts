import { z } from "zod";
import { feedCell, runCell } from "../../fills/index.ts";
import { compileLine, type Line } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import { usualFeedTimes } from "../beside-feed.ts";
import type { Condition } from "../condition.ts";
import { flowGate, isByTime } from "../flow-gate.ts";
import { feedReading, type PointAndFeed, pointAndFeed } from "../point-and-feed.ts";
import { readingOf, series } from "../reading-of.ts";
import { type AlarmSubject, subjectOf } from "../subject.ts";

interface Limits {
  readonly percent: number;
}

interface Place extends PointAndFeed {
  readonly feedAt: string | null;
}

/** Resin that is fed with less has little to remove: its share tells nothing, uS/cm at 25 °C. */
const leastFeed25 = 50;
const maxFeedAgeMs = 10 * 60_000;
const deadbandPercent = 2;
/** A feed that falls by less than to this share of itself is looked at as if it stood there. */
const steadyShare = 0.8;

/** The point behind a resin at which it is judged: the last resin of a group, where a probe sees what comes out. */
const pointBehind = (line: Line, stage: string) =>
  [...compileLine(line).points.values()].find(
    ({ point, resinBefore, resinFeedProbe }) =>
      point.conductivity && resinFeedProbe !== null && resinBefore.at(-1)?.id === stage,
  );

/** Resin keeps back less of what it is fed with than it should. */
export const removalLow: Condition<Limits, Place | null> = {
  id: "removal-low",
  subjectKinds: ["stage"],
  words: {
    unit: "%",
    source: "removal of 90 %: common practice, no source",
    when: "κ25 after resin over a tenth of its feed's, for 5 min of settled flow and 3 readings; by the greater of the feed's last reading and its median of 24 h, at least 50 uS/cm; back over 92 % for 10 min. Where nothing tells of flow it is not judged",
    attention: "today",
  },
  settings: z.strictObject({
    percent: z.number().min(10).max(99).describe("percent from 10 to 99").optional(),
  }),
  defaults: () => ({ percent: 90 }),
  shownLimit: ({ percent }) => percent,
  subjects: (line) =>
    line.stages
      .filter(({ id, kind }) => kind === "resin" && pointBehind(line, id))
      .map(({ id }) => subjectOf("stage", id)),
  place(line, { id }) {
    const behind = pointBehind(line, id);
    const feedAt = behind?.resinFeedProbe?.id ?? null;
    return behind ? { ...pointAndFeed(behind.id, feedAt), feedAt } : null;
  },
  reads: [latestCell, runCell, feedCell],
  hears: (place) => (place ? [series(place.own), { cell: runCell, key: place.point }] : []),
  gate({ board, place }) {
    const run = place ? board.get(runCell, place.point) : undefined;
    return isByTime(run) ? "flow-unknown" : flowGate(run);
  },
  judge({ board, place, nowMs, limits: { percent } }) {
    const reading = place && readingOf(board, place.own);
    const feed = place && feedReading(board, place, nowMs, maxFeedAgeMs);
    if (!place || !reading || !feed) return { is: "unknown", value: null, because: "no-valid-reading" };
    // What comes out went in a while before: the feed may have changed since.
    const median25 = place.feedAt === null ? null : (board.get(feedCell, place.feedAt)?.median25 ?? null);
    const feed25 = Math.max(feed.value, median25 ?? 0);
    if (feed25 < leastFeed25) return { is: false, value: null, limit: percent, tMs: reading.tMs };
    // No resin gives so much more than it is fed with, a probe does: that is told of by itself.
    if (reading.value > usualFeedTimes * feed25)
      return { is: "unknown", value: null, because: "no-valid-reading" };
    const value = 100 * (1 - reading.value / feed25);
    return { is: value < percent, value, limit: percent, beyond: percent - value, tMs: reading.tMs };
  },
  // A greater median of the feed only makes more of what was kept back.
  calmWithin({ board, place, nowMs, limits: { percent } }) {
    const feed = place && feedReading(board, place, nowMs, maxFeedAgeMs);
    if (!place || place.feed === null || !feed) return null;
    const low = steadyShare * feed.value;
    return [
      { series: place.own, high: low * (1 - (percent + deadbandPercent + 1) / 100) },
      { series: place.feed, low, untilMs: feed.tMs + maxFeedAgeMs },
    ];
  },
  on: () => ({ judgedMs: 5 * 60_000, readings: 3 }),
  off: () => ({ judgedMs: 10 * 60_000 }),
  deadband: () => deadbandPercent,
  isLatching: false,
  attention: () => "today",
  work: (_line, { id }) => [{ kind: "stage", id }],
  endedBy: (act, _line, { id }) =>
    act.type === "medium-change" && act.stage === id ? "medium-changed" : null,
};

/** Resins before a point whose removal is judged there: a breakthrough explains that it is low. */
export const resinsJudgedAt = (line: Line, { id }: AlarmSubject): readonly string[] =>
  (compileLine(line).points.get(id)?.resinBefore ?? []).map((stage) => stage.id);
