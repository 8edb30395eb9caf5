import { z } from "zod";
import { fillCell, floatCell, inflowCell } from "../../fills/index.ts";
import type { Drum } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import { nodeCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { drumsOnNode } from "../drums-on-node.ts";
import { allowedMs, silentSinceMs } from "../node-silence.ts";
import { nodesOf } from "../subject.ts";
import { doubts, fillsNow, silenceAttention } from "../unseen-fill.ts";

interface Limits {
  /** Null: 12 periods of the node, at least 60 s. */
  readonly after_s: number | null;
}
const periods = 12;
const leastMs = 60_000;

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
  place: (line, { id }) => drumsOnNode(line, id),
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
    const isFilling = place.some(fillsNow(board));
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
    const silentMs = nowMs - (silentSinceMs(board.get(nodeCell, subject.id), startedMs) ?? nowMs);
    return silenceAttention(look, place.filter(fillsNow(board)), silentMs);
  },
  causes: [
    {
      condition: "watch-lost",
      isOneRing: true,
      subjects: (line, { id }) => drumsOnNode(line, id).map((drum) => drum.id),
    },
  ],
};
