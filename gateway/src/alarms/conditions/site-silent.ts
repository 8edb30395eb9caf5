import { z } from "zod";
import { nodeCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { silencesOf } from "../node-silence.ts";
import { type AlarmSubject, nodesOf, subjectOf } from "../subject.ts";

/** Two nodes or more fell silent at once: one cause, power or network. */
export const siteSilent: Condition<object, readonly AlarmSubject[]> = {
  id: "site-silent",
  subjectKinds: ["site"],
  words: {
    unit: "1",
    source: "common practice, no source",
    when: "two nodes or more missed, within 30 s of one another, for 30 s; over when fewer than two are, for 60 s",
    attention: "tell",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: (line) => (nodesOf(line).length > 1 ? [subjectOf("site", line.site)] : []),
  place: (line) => nodesOf(line),
  reads: [nodeCell],
  hears: (nodes) => nodes.map(({ id }) => ({ cell: nodeCell, key: id })),
  judge({ board, place, nowMs, startedMs, standing }) {
    const { known, missed, isTogether, nextMs } = silencesOf(place, {
      board,
      nowMs,
      startedMs,
      isTold: standing !== null,
    });
    if (known < 2) return { is: "unknown", value: null, because: "never-heard" };
    return nextMs === null
      ? { is: isTogether, value: missed }
      : { is: isTogether, value: missed, againAtMs: nextMs };
  },
  on: () => ({ elapsedMs: 30_000 }),
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention: () => "tell",
  causes: [{ condition: "node-silent", subjects: (line) => nodesOf(line).map(({ name }) => name) }],
};
