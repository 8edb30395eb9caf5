import { z } from "zod";
import { runCell } from "../../fills/index.ts";
import { nodeOf } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import { nodeCell } from "../../readings/index.ts";
import {
  besideFeed,
  type ChannelBesideFeed,
  calmBesideFeed,
  hearsBesideFeed,
  isOverFeed,
  usualFeedTimes,
} from "../beside-feed.ts";
import type { Condition, Look, Verdict } from "../condition.ts";
import { channelsOf } from "../subject.ts";

interface Limits {
  readonly feed_times: number;
}

/** A node that talks so long without one of its channels has lost it (common practice, no source). */
const missingMs = 10 * 60_000;
const lookAgainMs = 60_000;

/** What is said of a channel that nothing is heard of: whether its node talks on without it. */
function judgeMissing({ board, subject, nowMs }: Look<Limits, ChannelBesideFeed>, lastMs: number): Verdict {
  const seenMs = board.get(nodeCell, nodeOf(subject.id))?.lastSeenMs ?? lastMs;
  if (seenMs - lastMs >= missingMs) return { is: true, value: null, tMs: seenMs };
  const talksOn = seenMs > lastMs && nowMs - seenMs < missingMs;
  // By the minute since it was heard: whoever looks in between moves nothing.
  const againAtMs = Math.max(lastMs + missingMs, nowMs + lookAgainMs - ((nowMs - lastMs) % lookAgainMs));
  return { is: "unknown", value: null, ...(talksOn ? { againAtMs } : {}) };
}

/** A channel says what can't be: out of range, open, shorted, an error code, or worse than what resin or membrane is fed with; or it is missing. */
export const probeImplausible: Condition<Limits, ChannelBesideFeed> = {
  id: "probe-implausible",
  subjectKinds: ["channel"],
  words: {
    unit: "",
    source:
      "QARTOD gross range test (US IOOS manuals, flag 4); more than the feed: common practice, no source",
    when: "a channel fails (flag 4) for 30 s, conductivity only while water runs; or its node talks on without it for 10 min; or behind resin or a membrane it reads over 1.2 times what that is fed with. Over after 10 good readings and 2 min",
    attention: "today",
  },
  settings: z.strictObject({
    feed_times: z.number().min(1.05).max(10).describe("times the feed, 1.05 to 10").optional(),
  }),
  defaults: () => ({ feed_times: usualFeedTimes }),
  subjects: (line) => channelsOf(line, () => true),
  place: (line, { id }) => besideFeed(line, id),
  reads: [latestCell, runCell, nodeCell],
  hears: hearsBesideFeed,
  gate({ board, place }) {
    const run = place.point === null ? undefined : board.get(runCell, place.point);
    return run?.flowing === false ? "no-flow" : null;
  },
  judge(look) {
    const { board, place, nowMs, limits } = look;
    const latest = board.get(latestCell, place.own);
    if (!latest) return { is: "unknown", value: null };
    if (latest.gone) return judgeMissing(look, latest.measurement.tMs);
    const { flag, value, tMs } = latest.measurement;
    if (flag === 4) return { is: true, value, tMs };
    if (flag === 9) return { is: "unknown", value: null };
    return { is: isOverFeed(board, place, limits.feed_times, nowMs), value, tMs };
  },
  calmWithin: ({ board, place, limits }) => calmBesideFeed(board, place, limits.feed_times),
  on: () => ({ elapsedMs: 30_000 }),
  off: () => ({ readings: 10, elapsedMs: 120_000 }),
  isLatching: false,
  attention: () => "today",
};
