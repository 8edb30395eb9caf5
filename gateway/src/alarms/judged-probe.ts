import { fillCell, inflowCell, isBehindMembrane, pointSeenFor } from "../fills/index.ts";
import { compileLine, type Drum, type Line, nodeOf } from "../line/index.ts";
import { latestCell } from "../measurements/index.ts";
import { besideFeed, type ChannelBesideFeed, feedTimesOf, isOverFeed } from "./beside-feed.ts";
import type { Heard, Look } from "./condition.ts";
import { kappa25 } from "./point-and-feed.ts";
import { readingOf, series } from "./reading-of.ts";

/** The probe by which the water is judged that fills a drum. */
export interface JudgedProbe {
  readonly channel: string;
  /** The series of its κ25. */
  readonly own25: string;
  readonly beside: ChannelBesideFeed;
  /** The series of the drum's stop floats. */
  readonly stops: readonly string[];
  /** Over so many times its feed it is taken to be wrong. */
  readonly feedTimes: number;
}

/** A feed of little more than pure water may itself be a probe in air, uS/cm: it speaks against no other. */
const leastFeed25 = 50;

/** The probe behind resin or a membrane that judges what a drum is filled with; null: nothing judges that water. */
export function judgedProbe(line: Line, drum: Drum): JudgedProbe | null {
  const at = compileLine(line).points.get(pointSeenFor(line, drum));
  const channel = at?.point.conductivity ?? null;
  if (!at || channel === null) return null;
  if (at.resinBefore.length === 0 && !isBehindMembrane(line, at.id)) return null;
  return {
    channel,
    own25: kappa25(at.id),
    beside: besideFeed(line, channel),
    feedTimes: feedTimesOf(line, channel),
    stops: drum.floats.filter(({ role }) => role === "stop").map(({ id }) => `float/${id}/state`),
  };
}

/** Drums of which the node's probes judge the water that fills them. */
export const drumsJudgedOn = (line: Line, node: string): readonly Drum[] =>
  line.drums.filter((drum) => {
    const probe = judgedProbe(line, drum);
    return probe !== null && nodeOf(probe.channel) === node;
  });

/** What tells anew of such a probe, and whether water runs into its drum. */
export const hearsFilling = (
  { own25, beside: { own }, stops }: JudgedProbe,
  drum: string,
): readonly Heard[] => [
  { cell: fillCell, key: drum },
  { cell: inflowCell, key: drum },
  ...[...stops, ...new Set([own, own25])].map(series),
];

type ProbeLook = Pick<Look<unknown, unknown>, "board" | "subject" | "nowMs">;

/** It is silent, it fails, or reads so much over its feed that no medium is to blame. Not where nothing judges that water. */
export function isProbeLost({ board, nowMs }: ProbeLook, probe: JudgedProbe | null): boolean {
  // One that never spoke is not fitted yet: the drum's card says so.
  if (probe === null || !board.get(latestCell, probe.own25)) return false;
  if (readingOf(board, probe.own25) === null) return true;
  const { beside, feedTimes } = probe;
  const feed = beside.feed25 === null ? null : readingOf(board, beside.feed25);
  return feed !== null && feed.value > leastFeed25 && isOverFeed(board, beside, feedTimes, nowMs);
}

/** Water runs into the drum, as far as anybody knows: one whose stop float is wet is full, or does not stop, which is told. */
export const isPouring = ({ board, subject }: ProbeLook, { stops }: JudgedProbe): boolean =>
  board.get(fillCell, subject.id)?.endedAtMs === null &&
  board.get(inflowCell, subject.id)?.flowing !== false &&
  !stops.some((float) => readingOf(board, float)?.value === 1);
