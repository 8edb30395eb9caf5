import { z } from "zod";
import { nodeCell, worldCell } from "../../readings/index.ts";
import type { Condition, Look, Verdict } from "../condition.ts";
import { nodesOf, theGateway } from "../subject.ts";
import { fact, factOf } from "../world-fact.ts";

/** By how much the calendar stands apart from engine time, ms: told when it was stepped. */
const offset = { part: "clock", fact: "offset-ms" } as const;
const standsMs = 60 * 60_000;
const msPerMin = 60_000;

/** A new node is being set up: its first hour is nobody's alarm. */
const firstMs = 60 * 60_000;

interface Limits {
  readonly step_min: number;
}

/** The gateway's: told once it was stepped. */
function ofGateway({ board, limits: { step_min }, nowMs }: Look<Limits, null>): Verdict {
  const now = factOf(board, offset);
  if (typeof now?.value !== "number") return { is: false, value: null };
  const byMin = Math.abs(now.value - (typeof now.was === "number" ? now.was : 0)) / msPerMin;
  const endsMs = now.sinceMs + standsMs;
  return {
    is: byMin > step_min && nowMs < endsMs,
    value: byMin,
    limit: step_min,
    on: {},
    againAtMs: endsMs,
  };
}

/** A node's: its dates against when its packs were made. A node without dates has no clock that could be wrong. */
function ofNode({ board, subject, limits: { step_min } }: Look<Limits, null>): Verdict {
  const node = board.get(nodeCell, subject.id);
  if (node?.clockAheadMs == null || node.lastSeenMs === null)
    return { is: "unknown", value: null, because: "no-valid-reading" };
  const byMin = Math.abs(node.clockAheadMs) / msPerMin;
  return {
    is: byMin > step_min,
    value: byMin,
    limit: step_min,
    beyond: byMin - step_min,
    tMs: node.lastSeenMs,
  };
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
  hears: (_place, { kind, id }) => [kind === "node" ? { cell: nodeCell, key: id } : fact(offset)],
  gate({ board, subject, nowMs }) {
    const startedAtMs = subject.kind === "node" ? board.get(nodeCell, subject.id)?.startedAtMs : null;
    return startedAtMs != null && nowMs - startedAtMs < firstMs ? "just-started" : null;
  },
  judge: (look) => (look.subject.kind === "node" ? ofNode(look) : ofGateway(look)),
  on: () => ({ readings: 3 }),
  off: () => ({}),
  // 5 min until it is told, under 1 min until it is over.
  deadband: (_limits, limit) => 0.8 * limit,
  isLatching: false,
  attention: () => "record",
};
