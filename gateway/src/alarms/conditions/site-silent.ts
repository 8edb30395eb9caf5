import { z } from "zod";
import type { BoardView } from "../../path/index.ts";
import { nodeCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { allowedMs, silentSinceMs } from "../node-silence.ts";
import { type AlarmSubject, nodesOf, subjectOf } from "../subject.ts";

/** Nodes that stop within this time of one another have one cause. */
const togetherMs = 30_000;
/** A node is missed after so many of its periods, at least so long: before `node-silent` says so. */
const missedPeriods = 3;
const leastMissedMs = 15_000;

interface Silence {
  readonly sinceMs: number;
  readonly missedAtMs: number;
}

function silencesOf(nodes: readonly AlarmSubject[], board: BoardView, startedMs: number): readonly Silence[] {
  const silences: Silence[] = [];
  for (const { id } of nodes) {
    const node = board.get(nodeCell, id);
    const sinceMs = silentSinceMs(node, startedMs);
    if (sinceMs !== null)
      silences.push({ sinceMs, missedAtMs: sinceMs + allowedMs(node, missedPeriods, leastMissedMs) });
  }
  return silences;
}

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
  judge({ board, place, nowMs, startedMs }) {
    const silences = silencesOf(place, board, startedMs);
    if (silences.length < 2) return { is: "unknown", value: null, because: "never-heard" };
    const missed: Silence[] = [];
    let nextMs = Number.POSITIVE_INFINITY;
    for (const silence of silences)
      if (silence.missedAtMs <= nowMs) missed.push(silence);
      else if (silence.missedAtMs < nextMs) nextMs = silence.missedAtMs;
    if (missed.length > 1) missed.sort((a, b) => a.sinceMs - b.sinceMs);
    const isTogether = missed.some(
      ({ sinceMs }, index) => index > 0 && sinceMs - (missed[index - 1]?.sinceMs ?? 0) <= togetherMs,
    );
    return {
      is: isTogether,
      value: missed.length,
      ...(Number.isFinite(nextMs) ? { againAtMs: nextMs } : {}),
    };
  },
  on: () => ({ elapsedMs: 30_000 }),
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention: () => "tell",
  causes: [{ condition: "node-silent", subjects: (line) => nodesOf(line).map(({ name }) => name) }],
};
