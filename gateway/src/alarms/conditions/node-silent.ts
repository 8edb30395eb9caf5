import { z } from "zod";
import { fillCell, floatCell, inflowCell } from "../../fills/index.ts";
import { compileLine, type Drum, drumsBehind, type Line } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import { nodeCell } from "../../readings/index.ts";
import type { Condition, Look } from "../condition.ts";
import { allowedMs, silentSinceMs } from "../node-silence.ts";
import { nodesOf } from "../subject.ts";

interface Limits {
  /** Null: 12 periods of the node, at least 60 s. */
  readonly after_s: number | null;
}
const periods = 12;
const leastMs = 60_000;
/** Where the stop is in doubt, silence wakes after half the time left to overflow, and not before. */
const leastBeforeWakeMs = 120_000;

/** Drums that a node watches: their floats, level, inlet or meter hang on it. */
function drumsOn(line: Line, node: string): readonly Drum[] {
  const own = new Set(
    compileLine(line)
      .slotsOfNode.get(node)
      ?.map(({ channel }) => channel),
  );
  // A meter on the way watches every drum behind it.
  const behind = new Set(
    [
      ...line.stages.map(({ to, flow }) => ({ at: to, flow })),
      ...line.points.map(({ id, flow }) => ({ at: id, flow })),
    ]
      .filter(({ flow }) => flow && own.has(flow))
      .flatMap(({ at }) => drumsBehind(line, at)),
  );
  return line.drums.filter(
    (drum) =>
      behind.has(drum) ||
      [
        ...drum.floats.map(({ channel }) => channel),
        drum.level?.channel,
        drum.inlet?.channel,
        drum.flow,
      ].some((channel) => channel && own.has(channel)),
  );
}

type NodeLook = Look<Limits, readonly Drum[]>;

const stopsOf = ({ floats }: Drum) => floats.filter(({ role }) => role === "stop");
/** What speaks against a stop float before it has failed. */
const doubts = ["float-unproven", "float-stuck", "float-disagrees"] as const;

const hasFailed = ({ other }: NodeLook, { id }: Drum): boolean => other("drum-not-stopping", id) !== null;
const isInDoubt = ({ other }: NodeLook, drum: Drum): boolean =>
  stopsOf(drum).some(({ id }) => doubts.some((condition) => other(condition, id) !== null));

/**
 * Litres that were in a filling drum when it was last heard; where no level tells and its stop has not failed, no more than
 * where its float trips. Null: nobody knows.
 */
function lastLitres(look: NodeLook, drum: Drum): number | null {
  const { board } = look;
  const measured = board.get(latestCell, `drum/${drum.id}/volume`)?.measurement.value ?? null;
  if (measured !== null || hasFailed(look, drum)) return measured;
  const [stop] = stopsOf(drum);
  return (stop && board.get(floatCell, stop.id)?.setL) ?? stop?.tripsAtL ?? null;
}

/** From when a filling drum was last heard until it overflows, as far as level and flow were known, ms; null: nobody knows. */
function leftMs(look: NodeLook, drum: Drum): number | null {
  const litres = lastLitres(look, drum);
  const flow = look.board.get(inflowCell, drum.id)?.flowLPerMin ?? drum.greatestFlowLPerMin;
  return litres === null || flow === null || flow <= 0 ? null : ((drum.volumeL - litres) / flow) * 60_000;
}

/** A node says nothing more. */
export const nodeSilent: Condition<Limits, readonly Drum[]> = {
  id: "node-silent",
  subjectKinds: ["node"],
  words: {
    unit: "s",
    source: "offline is the worst case: common practice, no source",
    when: "nothing heard for 12 of its periods, at least 60 s; over after 3 packs and 60 s. What the gateway could not hear while it was down is no silence.",
    attention:
      "today; tell while a drum on it fills; wake if that drum's stop has failed or its float is unproven, stuck or contradicted, and the silence takes more than half the time left to overflow, at least 2 min",
  },
  settings: z.strictObject({
    after_s: z.number().min(10).max(86_400).describe("seconds from 10 to 86400").optional(),
  }),
  defaults: () => ({ after_s: null }),
  subjects: nodesOf,
  place: (line, { id }) => drumsOn(line, id),
  reads: [nodeCell, fillCell, inflowCell, latestCell, floatCell],
  hears: (drums, { id }) => [
    { cell: nodeCell, key: id },
    ...drums.map((drum) => ({ cell: fillCell, key: drum.id })),
  ],
  after: ["drum-not-stopping", ...doubts],
  judge({ board, subject, place, limits: { after_s }, nowMs, startedMs }) {
    const node = board.get(nodeCell, subject.id);
    const sinceMs = silentSinceMs(node, startedMs);
    if (!node || node.lastSeenMs === null || sinceMs === null)
      return { is: "unknown", value: null, because: "never-heard" };
    const limitMs = after_s === null ? allowedMs(node, periods, leastMs) : after_s * 1000;
    const silentMs = nowMs - sinceMs;
    const isSilent = silentMs >= limitMs;
    const isFilling = place.some(({ id }) => board.get(fillCell, id)?.endedAtMs === null);
    return {
      is: isSilent,
      value: Math.round(silentMs / 1000),
      limit: limitMs / 1000,
      tMs: node.lastSeenMs,
      // While it is silent and a drum on it fills its attention may rise.
      ...(isSilent && !isFilling ? {} : { againAtMs: isSilent ? nowMs + leastMs : sinceMs + limitMs }),
    };
  },
  on: () => ({}),
  off: () => ({ readings: 3, elapsedMs: 60_000 }),
  isLatching: false,
  attention(look) {
    const { board, place, nowMs, startedMs, subject } = look;
    const filling = place.filter(({ id }) => board.get(fillCell, id)?.endedAtMs === null);
    const silentMs = nowMs - (silentSinceMs(board.get(nodeCell, subject.id), startedMs) ?? nowMs);
    const isUrgent = filling.some(
      (drum) =>
        (hasFailed(look, drum) || isInDoubt(look, drum)) &&
        silentMs > Math.max(leastBeforeWakeMs, (leftMs(look, drum) ?? 0) / 2),
    );
    return isUrgent ? "wake" : filling.length > 0 ? "tell" : "today";
  },
  causes: [
    {
      condition: "watch-lost",
      isOneRing: true,
      subjects: (line, { id }) => drumsOn(line, id).map((drum) => drum.id),
    },
  ],
};
