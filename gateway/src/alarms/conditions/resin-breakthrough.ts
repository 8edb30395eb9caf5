import { z } from "zod";
import { runCell } from "../../fills/index.ts";
import { compileLine, type Line } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { flowGate, isByTime, isFirstWater } from "../flow-gate.ts";
import { lastReadingOf, readingOf, series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  /** uS/cm at 25 °C. */
  readonly limit: number;
}
const settings = z.strictObject({ limit: z.number().positive().describe("a number over 0").optional() });
const usualLimit = 5;
/** Gross: over so many times the limit, or over this share of what the resin is fed. */
const grossTimes = 10;
const grossShareOfFeed = 0.5;
const maxFeedAgeMs = 10 * 60_000;
/** Without any word on flow the water may stand: only what is so many times the limit is judged. */
const byTimeTimes = 3;
/** … and time has to stand in for settling and delay together. */
const onByTime = { judgedMs: 5 * 60_000, readings: 3 };

interface Place {
  readonly point: string;
  readonly own: string;
  readonly feed: string | null;
  /** The resin before the point, nearest first. */
  readonly resin: readonly string[];
  readonly feedsByItself: boolean;
}

const resinBefore = (line: Line, point: string): readonly string[] =>
  compileLine(line)
    .points.get(point)
    ?.resinBefore.map(({ id }) => id) ?? [];

const kappa25 = (point: string) => `point/${point}/conductivity25`;

/** Spent resin: more ions after it than its limit, judged by settled, flowing water. */
export const resinBreakthrough: Condition<Limits, Place> = {
  id: "resin-breakthrough",
  subjectKinds: ["point"],
  words: {
    unit: "uS/cm",
    source: "ASTM D1193 type IV and ISO 3696:1987 grade 3: 5.0 uS/cm at 25 °C",
    when: "κ25 after resin over its limit for 60 s of settled flow and 3 readings; over ten times that, or over half the feed, for 15 s, not in first water after 15 min of standstill; back under 80 % of the limit for 5 min. Never judged at standstill or by first water; where nothing tells of flow, three times its limit for 5 min.",
    attention: "tell; wake if a drum behind it feeds by itself",
  },
  settings,
  defaults: (line, { id }) => ({
    limit: line.points.find((point) => point.id === id)?.limit25UsPerCm ?? usualLimit,
  }),
  shownLimit: ({ limit }) => limit,
  subjects: (line) =>
    [...compileLine(line).points.values()]
      .filter(({ point, resinBefore: resin }) => point.conductivity && resin.length > 0)
      .map(({ id }) => subjectOf("point", id)),
  place(line, { id }) {
    const at = compileLine(line).points.get(id);
    const probe = at?.resinFeedProbe ?? null;
    return {
      point: id,
      own: kappa25(id),
      feed: probe ? kappa25(probe.id) : null,
      resin: resinBefore(line, id),
      feedsByItself: at?.drumsBehind.some(({ drum }) => drum.feeds === "automatic") === true,
    };
  },
  reads: [latestCell, runCell],
  hears: ({ own, point }) => [series(own), { cell: runCell, key: point }],
  gate: ({ board, place }) => flowGate(board.get(runCell, place.point)),
  grossPasses: ["settling"],
  judge({ board, place, limits: { limit }, nowMs }) {
    const reading = readingOf(board, place.own);
    if (!reading) return { is: "unknown", value: null };
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
    act.type === "medium-change" && resinBefore(line, id).includes(act.stage) ? "medium-changed" : null,
};
