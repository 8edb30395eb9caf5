import { feedCell, runCell } from "../../fills/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { flowGate } from "../flow-gate.ts";
import { limitOver0, shownLimit } from "../one-limit.ts";
import {
  idsOfDrumsBehind,
  judgePassing,
  type Passing,
  type PassingLimits,
  type PassingPlace,
  passingPlace,
} from "../passing.ts";
import { workBefore } from "../point-and-feed.ts";
import { series } from "../reading-of.ts";

/** So much of the limit is inside its deadband of a fifth, too. */
const wellInside = 0.75;

/** A row by which a medium lets more through than it may, judged by settled, flowing water. */
export const passingRow = ({
  feedAt,
  limitNow,
  limitBy,
  media,
  alsoCauses = [],
  ...row
}: Passing): Condition<PassingLimits, PassingPlace> => ({
  ...row,
  subjectKinds: ["point"],
  settings: limitOver0("a number"),
  shownLimit,
  place: (line, { id }) => passingPlace(line, id, feedAt(line, id)),
  reads: [latestCell, runCell, feedCell, ...limitBy.filter((cell) => cell !== feedCell)],
  hears: ({ own, point }) => [series(own), { cell: runCell, key: point }],
  gate: ({ board, place }) => flowGate(board.get(runCell, place.point)),
  grossPasses: ["settling"],
  judge: (look) => judgePassing(look, limitNow(look)),
  // Under the limit nothing is gross either: half the feed counts only where it is more.
  calmWithin: ({ place, limits: { limit } }) =>
    limit === null || limitBy.length > 0 ? null : [{ series: place.own, high: wellInside * limit }],
  on: () => ({ judgedMs: 60_000, readings: 3 }),
  isByShare: true,
  gross: () => ({ judgedMs: 15_000 }),
  off: () => ({ judgedMs: 5 * 60_000 }),
  deadband: (_limits, limit) => 0.2 * limit,
  isLatching: false,
  attention: ({ place }) => (place.feedsByItself ? "wake" : "tell"),
  causes: [{ condition: "drum-off-target", subjects: idsOfDrumsBehind }, ...alsoCauses],
  work: workBefore,
  endedBy: (act, line, { id }) =>
    act.type === "medium-change" && media(line, id).some((stage) => stage.id === act.stage)
      ? "medium-changed"
      : null,
});
