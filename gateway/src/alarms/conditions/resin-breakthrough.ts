import { compileLine } from "../../line/index.ts";
import { subjectOf } from "../subject.ts";
import { passingRow } from "./passing-row.ts";
import { resinsJudgedAt } from "./removal-low.ts";

/** uS/cm at 25 °C, where the line gives none. */
const usualLimit = 5;

/** Spent resin: more ions after it than its limit, judged by settled, flowing water. */
export const resinBreakthrough = passingRow({
  id: "resin-breakthrough",
  words: {
    unit: "uS/cm",
    source: "ASTM D1193 type IV and ISO 3696:1987 grade 3: 5.0 uS/cm at 25 °C",
    when: "κ25 after resin over its limit for 60 s of settled flow and 3 readings; over ten times that, or over half the feed, for 15 s, not in first water after 15 min of standstill; back under 80 % of the limit for 5 min. Never judged at standstill, by first water, or over 1.2 times the feed, which is told as a probe; where nothing tells of flow, three times its limit for 5 min.",
    attention: "tell; wake if a drum behind it feeds by itself",
  },
  defaults: (line, { id }) => ({
    limit: line.points.find((point) => point.id === id)?.limit25UsPerCm ?? usualLimit,
  }),
  subjects: (line) =>
    [...compileLine(line).points.values()]
      .filter(({ point, resinBefore }) => point.conductivity && resinBefore.length > 0)
      .map(({ id }) => subjectOf("point", id)),
  feedAt: (line, id) => compileLine(line).points.get(id)?.resinFeedProbe?.id ?? null,
  alsoCauses: [{ condition: "removal-low", subjects: resinsJudgedAt }],
  limitNow: ({ limits }) => limits.limit,
  limitBy: [],
  media: (line, id) => compileLine(line).points.get(id)?.resinBefore ?? [],
});
