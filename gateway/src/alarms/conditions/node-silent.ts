import { z } from "zod";
import { fillCell, floatCell, inflowCell } from "../../fills/index.ts";
import { latestCell } from "../../measurements/index.ts";
import { nodeCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { drumsOfNode, type NodeDrums } from "../drums-on-node.ts";
import { judgeSilence, type SilenceLimits, silentForMs } from "../silent-node.ts";
import { nodesOf } from "../subject.ts";
import { doubts, fillsNow, silenceAttention } from "../unseen-fill.ts";

/** A node says nothing more. */
export const nodeSilent: Condition<SilenceLimits, NodeDrums> = {
  id: "node-silent",
  subjectKinds: ["node"],
  words: {
    unit: "s",
    source: "offline is the worst case: common practice, no source",
    when: "no current reading for 12 of its periods, at least 60 s (packs dated over 5 min away are not current, nor is what a node had kept, once that has come in for 5 min and 6 of its periods); over after 3 packs and 60 s. What the gateway could not hear while it was down is no silence.",
    attention:
      "today; tell while a drum on it fills, or one whose water its probe behind resin or membrane judges; wake if that drum's stop has failed or its float is unproven, stuck or contradicted, and the silence takes more than half the time left to overflow, at least 2 min",
  },
  settings: z.strictObject({
    after_s: z.number().min(10).max(86_400).describe("seconds from 10 to 86400").optional(),
  }),
  defaults: () => ({ after_s: null }),
  subjects: nodesOf,
  place: (line, { id }) => drumsOfNode(line, id),
  reads: [nodeCell, fillCell, inflowCell, latestCell, floatCell],
  hears: ({ all: drums }, { id }) => [
    { cell: nodeCell, key: id },
    ...drums.map((drum) => ({ cell: fillCell, key: drum.id })),
    // One that asks for water fills as well, where nothing else tells.
    ...drums.flatMap(({ floats }) => floats.map((float) => ({ cell: floatCell, key: float.id }))),
  ],
  after: ["drum-not-stopping", ...doubts],
  judge: judgeSilence,
  on: () => ({}),
  off: () => ({ readings: 3, elapsedMs: 60_000 }),
  isLatching: false,
  attention(look) {
    const { board, place } = look;
    const bySilence = silenceAttention(look, place.watched.filter(fillsNow(board)), silentForMs(look));
    return bySilence === "today" && place.all.some(fillsNow(board)) ? "tell" : bySilence;
  },
  causes: [
    {
      condition: "watch-lost",
      isOneRing: true,
      subjects: (line, { id }) => drumsOfNode(line, id).all.map((drum) => drum.id),
    },
  ],
};
