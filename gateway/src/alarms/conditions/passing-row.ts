import { z } from "zod";
import { runCell } from "../../fills/index.ts";
import { compileLine, type Line, type LineStage } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Cell } from "../../path/index.ts";
import type { Condition, Look } from "../condition.ts";
import { flowGate, isByTime, isFirstWater } from "../flow-gate.ts";
import { lastReadingOf, readingOf, series } from "../reading-of.ts";

/** Gross: over so many times the limit, or over this share of what the medium is fed with. */
const grossTimes = 10;
const grossShareOfFeed = 0.5;
const maxFeedAgeMs = 10 * 60_000;
/** Without any word on flow the water may stand: only what is so many times the limit is judged. */
const byTimeTimes = 3;
/** … and time has to stand in for settling and delay together. */
const onByTime = { judgedMs: 5 * 60_000, readings: 3 };

/** Where a medium lets too much through. */
export interface PassingPlace {
  readonly point: string;
  readonly own: string;
  /** The point whose probe sees what the medium is fed with, and its series; null where none does. */
  readonly feedAt: string | null;
  readonly feed: string | null;
  readonly feedsByItself: boolean;
}

/** uS/cm at 25 °C; null: by what the medium is fed with. */
export interface PassingLimits {
  readonly limit: number | null;
}

/** What differs from medium to medium. */
interface Passing
  extends Pick<Condition<PassingLimits, PassingPlace>, "id" | "words" | "defaults" | "subjects"> {
  /** The point whose probe sees what the medium is fed with. */
  feedAt(line: Line, point: string): string | null;
  /** The limit now, uS/cm; null while it can't be told. */
  limitNow(look: Look<PassingLimits, PassingPlace>): number | null;
  /** Cells that the limit is told by. */
  readonly limitBy: readonly Cell<unknown>[];
  /** Stages whose change ends it: what they let through is another medium's now. */
  media(line: Line, point: string): readonly LineStage[];
}

const kappa25 = (point: string) => `point/${point}/conductivity25`;

/** A row by which a medium lets more through than it may, judged by settled, flowing water. */
export function passingRow({
  feedAt: feedOf,
  limitNow,
  limitBy,
  media,
  ...row
}: Passing): Condition<PassingLimits, PassingPlace> {
  return {
    ...row,
    subjectKinds: ["point"],
    settings: z.strictObject({ limit: z.number().positive().describe("a number over 0").optional() }),
    shownLimit: ({ limit }) => limit,
    place(line, { id }) {
      const drums = compileLine(line).points.get(id)?.drumsBehind ?? [];
      const feedAt = feedOf(line, id);
      return {
        point: id,
        own: kappa25(id),
        feedAt,
        feed: feedAt === null ? null : kappa25(feedAt),
        feedsByItself: drums.some(({ drum }) => drum.feeds === "automatic"),
      };
    },
    reads: [latestCell, runCell, ...limitBy],
    hears: ({ own, point }) => [series(own), { cell: runCell, key: point }],
    gate: ({ board, place }) => flowGate(board.get(runCell, place.point)),
    grossPasses: ["settling"],
    judge(look) {
      const { board, place, nowMs } = look;
      const reading = readingOf(board, place.own);
      const limit = limitNow(look);
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
      (compileLine(line).points.get(id)?.stagesBefore ?? []).map((stage) => ({
        kind: "stage",
        id: stage.id,
      })),
    endedBy: (act, line, { id }) =>
      act.type === "medium-change" && media(line, id).some((stage) => stage.id === act.stage)
        ? "medium-changed"
        : null,
  };
}
