import { z } from "zod";
import { nodeCell, worldCell } from "../../readings/index.ts";
import { calendarOffset, calendarStepped, nodeDatesApart } from "../clock-apart.ts";
import type { Condition } from "../condition.ts";
import { firstHourGate } from "../node-age.ts";
import { nodesOf, theGateway } from "../subject.ts";
import { fact } from "../world-fact.ts";

interface Limits {
  readonly step_min: number;
}

/** The gateway's clock was set by more than a few minutes, or a node's is off by as much: dates do not fit together. */
export const clockWrong: Condition<Limits, null> = {
  id: "clock-wrong",
  subjectKinds: ["gateway", "node"],
  words: {
    unit: "min",
    source: "common practice, no source",
    when: "the gateway's calendar was stepped by more than 5 min; said for an hour. A node's dates are off by more than 5 min in 3 packs; over under 1 min. Not in a node's first hour.",
    attention: "record",
  },
  settings: z.strictObject({
    step_min: z.number().min(1).max(1440).describe("minutes from 1 to 1440").optional(),
  }),
  defaults: () => ({ step_min: 5 }),
  shownLimit: ({ step_min }) => step_min,
  subjects: (line) => [theGateway, ...nodesOf(line)],
  place: () => null,
  reads: [worldCell, nodeCell],
  hears: (_place, { kind, id }) => [kind === "node" ? { cell: nodeCell, key: id } : fact(calendarOffset)],
  gate: ({ board, subject, nowMs }) =>
    subject.kind === "node" ? firstHourGate(board, subject.id, nowMs) : null,
  judge: ({ board, subject, limits: { step_min }, nowMs }) =>
    subject.kind === "node"
      ? nodeDatesApart(board, subject.id, step_min)
      : calendarStepped(board, step_min, nowMs),
  on: () => ({ readings: 3 }),
  off: () => ({}),
  // 5 min until it is told, under 1 min until it is over.
  deadband: (_limits, limit) => 0.8 * limit,
  isLatching: false,
  attention: () => "record",
};
