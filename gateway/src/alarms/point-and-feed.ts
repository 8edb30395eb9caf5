import { compileLine, type Line } from "../line/index.ts";
import type { BoardView } from "../path/index.ts";
import { lastReadingOf, type ValidReading } from "./reading-of.ts";
import type { AlarmSubject } from "./subject.ts";
import type { WorkSubject } from "./work.ts";

/** The series of a point's conductivity at 25 °C. */
export const kappa25 = (point: string): string => `point/${point}/conductivity25`;

/** A point's conductivity, and that of what the water came from: a medium's feed, the supply. */
export interface PointAndFeed {
  readonly point: string;
  /** The series of its own. */
  readonly own: string;
  /** The series of the feed; null where none is measured. */
  readonly feed: string | null;
}

/** A point beside the point that sees what it is fed with; null: none does. */
export const pointAndFeed = (point: string, feedAt: string | null): PointAndFeed => ({
  point,
  own: kappa25(point),
  feed: feedAt === null ? null : kappa25(feedAt),
});

/** What the feed read last, within `maxAgeMs` of now; null where nothing says. */
export const feedReading = (
  board: BoardView,
  { feed }: Pick<PointAndFeed, "feed">,
  nowMs: number,
  maxAgeMs: number,
): ValidReading | null => (feed === null ? null : lastReadingOf(board, feed, nowMs, maxAgeMs));

/** Work on any stage before a point: it explains what is seen there. */
export const workBefore = (line: Line, { id }: AlarmSubject): readonly WorkSubject[] =>
  (compileLine(line).points.get(id)?.stagesBefore ?? []).map((stage) => ({ kind: "stage", id: stage.id }));
