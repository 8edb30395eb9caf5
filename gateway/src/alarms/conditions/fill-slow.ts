import { z } from "zod";
import { fillCell, learnedCell, usualFlowLPerMin } from "../../fills/index.ts";
import type { Condition } from "../condition.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  readonly below_percent: number;
}
/** Before so many fills were learned, what is usual is not known. */
const enoughFills = 5;
const minuteMs = 60_000;

/** Fills take longer and longer. */
export const fillSlow: Condition<Limits, null> = {
  id: "fill-slow",
  subjectKinds: ["drum"],
  words: {
    unit: "L/min",
    source: "common practice, no source",
    when: "three fills in a row under 70 % of the usual flow, where litres are counted; over after one good fill",
    attention: "record",
  },
  settings: z.strictObject({
    below_percent: z.number().min(10).max(95).describe("percent from 10 to 95").optional(),
  }),
  defaults: () => ({ below_percent: 70 }),
  subjects: (line) => line.drums.map(({ id }) => subjectOf("drum", id)),
  place: () => null,
  reads: [fillCell, learnedCell],
  hears: (_place, { id }) => [{ cell: fillCell, key: id }],
  judge({ board, subject, limits: { below_percent } }) {
    const fill = board.get(fillCell, subject.id);
    const learned = board.get(learnedCell, subject.id);
    const usual = learned && learned.fills.length >= enoughFills ? usualFlowLPerMin(learned) : null;
    if (!fill || fill.endedAtMs === null || !fill.litres || usual === null)
      return { is: "unknown", value: null };
    const value = (fill.litres * minuteMs) / Math.max(1, fill.endedAtMs - fill.startedAtMs);
    const limit = (usual * below_percent) / 100;
    return { is: value < limit, value, limit, tMs: fill.endedAtMs, fill: fill.id };
  },
  on: () => ({ fills: 3 }),
  // A fill is judged once, when it has ended.
  off: () => ({}),
  isLatching: false,
  attention: () => "record",
};
