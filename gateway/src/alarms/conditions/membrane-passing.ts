import { feedBefore, feedCell, isBehindMembrane, membraneLimit25 } from "../../fills/index.ts";
import { compileLine } from "../../line/index.ts";
import { subjectOf } from "../subject.ts";
import { passingRow } from "./passing-row.ts";

/** A torn or worn membrane: more ions behind it than a tenth of its feed, where no resin comes after it. */
export const membranePassing = passingRow({
  id: "membrane-passing",
  words: {
    unit: "uS/cm",
    source: "rejection of 90 %: common practice, no source",
    when: "κ25 behind a membrane alone over a tenth of the median that it was fed with in 24 h, at least 5 uS/cm, for 60 s of settled flow and 3 readings; over ten times that, or over half the feed, for 15 s, not in first water after 15 min of standstill; back under 80 % of the limit for 5 min. Where nothing tells of flow, three times its limit for 5 min.",
    attention: "tell; wake if a drum behind it feeds by itself",
  },
  defaults: (line, { id }) => ({
    limit: line.points.find((point) => point.id === id)?.limit25UsPerCm ?? null,
  }),
  subjects: (line) =>
    line.points
      .filter(({ id, conductivity }) => conductivity && isBehindMembrane(line, id))
      .map(({ id }) => subjectOf("point", id)),
  feedAt: feedBefore,
  limitNow: ({ board, place, limits }) =>
    limits.limit ?? membraneLimit25(place.feedAt === null ? null : board.get(feedCell, place.feedAt)),
  limitBy: [feedCell],
  media: (line, id) =>
    (compileLine(line).points.get(id)?.stagesBefore ?? []).filter(({ kind }) => kind === "membrane"),
});
