import { z } from "zod";
import { feedBefore, feedCell, isBehindMembrane, membraneLimit25, runCell } from "../../fills/index.ts";
import { compileLine } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { flowGate, isByTime, isFirstWater } from "../flow-gate.ts";
import { lastReadingOf, readingOf, series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  /** uS/cm at 25 °C; null: a tenth of what the membrane was fed with. */
  readonly limit: number | null;
}
interface Place {
  readonly point: string;
  readonly own: string;
  /** The point whose probe sees what the membrane is fed with, and its series; null where none does. */
  readonly feedAt: string | null;
  readonly feed: string | null;
  readonly feedsByItself: boolean;
}

/** Gross: over so many times the limit, or over this share of what the membrane is fed with. */
const grossTimes = 10;
const grossShareOfFeed = 0.5;
const maxFeedAgeMs = 10 * 60_000;
/** Without any word on flow the water may stand: only what is so many times the limit is judged, and for longer. */
const byTimeTimes = 3;
const onByTime = { judgedMs: 5 * 60_000, readings: 3 };

const kappa25 = (point: string) => `point/${point}/conductivity25`;

/** A torn or worn membrane: more ions behind it than a tenth of its feed, where no resin comes after it. */
export const membranePassing: Condition<Limits, Place> = {
  id: "membrane-passing",
  subjectKinds: ["point"],
  words: {
    unit: "uS/cm",
    source: "rejection of 90 %: common practice, no source",
    when: "κ25 behind a membrane alone over a tenth of the median that it was fed with in 24 h, at least 5 uS/cm, for 60 s of settled flow and 3 readings; over ten times that, or over half the feed, for 15 s, not in first water after 15 min of standstill; back under 80 % of the limit for 5 min. Where nothing tells of flow, three times its limit for 5 min.",
    attention: "tell; wake if a drum behind it feeds by itself",
  },
  settings: z.strictObject({ limit: z.number().positive().describe("a number over 0").optional() }),
  defaults: (line, { id }) => ({
    limit: line.points.find((point) => point.id === id)?.limit25UsPerCm ?? null,
  }),
  shownLimit: ({ limit }) => limit,
  subjects: (line) =>
    line.points
      .filter(({ id, conductivity }) => conductivity && isBehindMembrane(line, id))
      .map(({ id }) => subjectOf("point", id)),
  place(line, { id }) {
    const at = compileLine(line).points.get(id);
    const feedAt = feedBefore(line, id);
    return {
      point: id,
      own: kappa25(id),
      feedAt,
      feed: feedAt === null ? null : kappa25(feedAt),
      feedsByItself: at?.drumsBehind.some(({ drum }) => drum.feeds === "automatic") === true,
    };
  },
  reads: [latestCell, runCell, feedCell],
  hears: ({ own, point }) => [series(own), { cell: runCell, key: point }],
  gate: ({ board, place }) => flowGate(board.get(runCell, place.point)),
  grossPasses: ["settling"],
  judge({ board, place, limits, nowMs }) {
    const reading = readingOf(board, place.own);
    const limit =
      limits.limit ?? membraneLimit25(place.feedAt === null ? null : board.get(feedCell, place.feedAt));
    if (!reading || limit === null) return { is: "unknown", value: reading?.value ?? null };
    const { value, tMs } = reading;
    const feed = place.feed === null ? null : lastReadingOf(board, place.feed, nowMs, maxFeedAgeMs);
    const half = feed ? Math.max(feed.value * grossShareOfFeed, limit) : Number.POSITIVE_INFINITY;
    const run = board.get(runCell, place.point);
    const byTime = isByTime(run);
    return {
      is: value > (byTime ? byTimeTimes * limit : limit),
      ...(isFirstWater(run) ? {} : { gross: value > grossTimes * limit || value > half }),
      value,
      limit,
      beyond: value - limit,
      tMs,
      ...(byTime ? { on: onByTime } : {}),
    };
  },
  on: () => ({ judgedMs: 60_000, readings: 3 }),
  gross: () => ({ judgedMs: 15_000 }),
  off: () => ({ judgedMs: 5 * 60_000 }),
  deadband: (_limits, limit) => 0.2 * limit,
  isLatching: false,
  attention: ({ place }) => (place.feedsByItself ? "wake" : "tell"),
  causes: [
    {
      condition: "drum-off-target",
      subjects: (line, { id }) =>
        (compileLine(line).points.get(id)?.drumsBehind ?? []).map(({ drum }) => drum.id),
    },
  ],
  // Work on any stage before the point explains what is seen there.
  work: (line, { id }) =>
    (compileLine(line).points.get(id)?.stagesBefore ?? []).map((stage) => ({ kind: "stage", id: stage.id })),
  endedBy: (act, line, { id }) =>
    act.type === "medium-change" &&
    compileLine(line)
      .points.get(id)
      ?.stagesBefore.some((stage) => stage.id === act.stage && stage.kind === "membrane")
      ? "medium-changed"
      : null,
};
