import {
  bandByFeed25,
  batchCell,
  feedBefore,
  feedCell,
  fillCell,
  freshBandOf,
  usualSalinityWithin,
} from "../fills/index.ts";
import type { Line } from "../line/index.ts";
import type { BoardView } from "../path/index.ts";
import type { NotJudged } from "./alarm.ts";
import type { Verdict } from "./condition.ts";
import { outOfBand, overLimit } from "./held-against.ts";
import { readingOf } from "./reading-of.ts";

/** What the water in a drum should be by its own probe. */
export interface DrumAim {
  readonly drum: string;
  /** The series of that probe. */
  readonly own: string;
  /** Practical salinity that it is made to; null: it holds fresh water. */
  readonly salinity: number | null;
  /** uS/cm at 25 °C that fresh water may have; null where it follows the feed, and for salt water. */
  readonly band25: number | null;
  /** The point of that feed. */
  readonly feedAt: string | null;
  readonly feedsByItself: boolean;
}

/** How far a drum's water may be off its aim. */
export interface AimLimits {
  /** uS/cm at 25 °C; null: by what a membrane is fed with. */
  readonly limit: number | null;
  /** Practical salinity on either side of the target. */
  readonly salinity_within: number;
  readonly by: "salinity" | "conductivity";
}

/** What has just come in is mixed after so long. */
const mixedMs = 10 * 60_000;

/** What a drum's water should be; null: it has no probe, or nobody says. */
export function aimOf(line: Line, id: string): DrumAim | null {
  const drum = line.drums.find((one) => one.id === id);
  if (!drum?.conductivity) return null;
  const isSalt = drum.holds === "salt";
  const band = isSalt ? null : freshBandOf(line, drum, drum.fedBy);
  const salinity = isSalt ? drum.target.salinity : null;
  if (band === null && salinity === null) return null;
  return {
    drum: id,
    own: `drum/${id}/${isSalt ? "salinity" : "conductivity25"}`,
    salinity,
    band25: band === "by-feed" ? null : band,
    feedAt: band === "by-feed" ? feedBefore(line, drum.fedBy) : null,
    feedsByItself: drum.feeds === "automatic",
  };
}

/** Why a drum's water is not held against its aim now; null: it is. */
export function aimGate(board: BoardView, { drum, salinity }: DrumAim, nowMs: number): NotJudged | null {
  const batch = board.get(batchCell, drum);
  // Before it is ready nobody expects it at its salinity.
  if (salinity !== null && batch && batch.state !== "ready" && batch.state !== "in-use") return "not-ready";
  const fill = board.get(fillCell, drum);
  if (!fill) return null;
  return fill.endedAtMs === null || nowMs - fill.endedAtMs < mixedMs ? "settling" : null;
}

/** The limits of a drum with this aim, where the line file sets none. */
export function aimLimits(aim: DrumAim | null): AimLimits {
  const by = (aim?.salinity ?? null) === null ? "conductivity" : "salinity";
  return { limit: aim?.band25 ?? null, salinity_within: usualSalinityWithin, by };
}

/** What is in a drum against what should be. */
export function judgeAim(
  board: BoardView,
  { own, salinity, feedAt }: DrumAim,
  { limit, salinity_within: within }: AimLimits,
): Verdict {
  const reading = readingOf(board, own);
  if (salinity !== null) return outOfBand(reading, salinity - within, salinity + within);
  return overLimit(reading, limit ?? bandByFeed25(feedAt === null ? null : board.get(feedCell, feedAt)));
}
