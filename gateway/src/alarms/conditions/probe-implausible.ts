import { z } from "zod";
import { feedBefore, isBehindMembrane, runCell } from "../../fills/index.ts";
import { compileLine, type Slot } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { lastReadingOf, series } from "../reading-of.ts";
import { channelsOf } from "../subject.ts";

interface Limits {
  readonly feed_times: number;
}
interface Place {
  /** What the channel gives first: its flag tells. */
  readonly own: string;
  /** The point whose flow it needs to be judged; null where it needs none. */
  readonly point: string | null;
  /** κ25 here and before resin or membrane, where both are measured. */
  readonly own25: string | null;
  readonly feed25: string | null;
}
const maxFeedAgeMs = 3_600_000;

function placeOf(line: Parameters<typeof compileLine>[0], id: string): Place {
  const compiled = compileLine(line);
  const { use, subject, series: all } = compiled.slotOf.get(id) as Slot;
  const isKappa = (use.signal === "conductivity" || use.signal === "solids") && subject.kind === "point";
  const at = isKappa ? compiled.points.get(subject.id) : undefined;
  const feed =
    at?.resinFeedProbe?.id ?? (at && isBehindMembrane(line, at.id) ? feedBefore(line, at.id) : null);
  return {
    own: all[0]?.name ?? "",
    point: isKappa ? subject.id : null,
    own25: isKappa ? `point/${subject.id}/conductivity25` : null,
    feed25: feed === null ? null : `point/${feed}/conductivity25`,
  };
}

/** A channel says what can't be: out of range, open, shorted, an error code, or worse than what resin or membrane is fed with. */
export const probeImplausible: Condition<Limits, Place> = {
  id: "probe-implausible",
  subjectKinds: ["channel"],
  words: {
    unit: "",
    source:
      "QARTOD gross range test (US IOOS manuals, flag 4); more than the feed: common practice, no source",
    when: "a channel fails (flag 4) for 30 s, conductivity only while water runs; or behind resin or a membrane it reads over 1.2 times what that is fed with. Over after 10 good readings and 2 min",
    attention: "today",
  },
  settings: z.strictObject({
    feed_times: z.number().min(1.05).max(10).describe("times the feed, 1.05 to 10").optional(),
  }),
  defaults: () => ({ feed_times: 1.2 }),
  subjects: (line) => channelsOf(line, () => true),
  place: (line, { id }) => placeOf(line, id),
  reads: [latestCell, runCell],
  hears: ({ own, own25, point }) => [
    series(own),
    ...(own25 === null || own25 === own ? [] : [series(own25)]),
    ...(point === null ? [] : [{ cell: runCell, key: point }]),
  ],
  gate({ board, place }) {
    const run = place.point === null ? undefined : board.get(runCell, place.point);
    return run?.flowing === false ? "no-flow" : null;
  },
  judge({ board, place, nowMs, limits: { feed_times } }) {
    const latest = board.get(latestCell, place.own);
    if (!latest || latest.gone) return { is: "unknown", value: null };
    const { flag, value, tMs } = latest.measurement;
    if (flag === 4) return { is: true, value, tMs };
    if (flag === 9) return { is: "unknown", value: null };
    const kappa = place.own25 === null ? null : lastReadingOf(board, place.own25, nowMs, maxFeedAgeMs);
    const feed = place.feed25 === null ? null : lastReadingOf(board, place.feed25, nowMs, maxFeedAgeMs);
    return { is: kappa !== null && feed !== null && kappa.value > feed_times * feed.value, value, tMs };
  },
  on: () => ({ elapsedMs: 30_000 }),
  off: () => ({ readings: 10, elapsedMs: 120_000 }),
  isLatching: false,
  attention: () => "today",
};
