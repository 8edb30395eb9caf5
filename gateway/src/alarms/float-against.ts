import { type BatchState, batchCell, type FloatNow, floatCell, witnessCell } from "../fills/index.ts";
import { compileLine, type Drum, type Float, type Line } from "../line/index.ts";
import type { BoardView } from "../path/index.ts";
import type { Heard } from "./condition.ts";
import { readingOf, series } from "./reading-of.ts";

/** A float, and what else in its drum tells where the water stands. */
export interface FloatBeside {
  readonly drum: Drum;
  readonly float: Float;
  readonly own: string;
  /** The series of the drum's overflow float, where this is its stop float. */
  readonly overflow: string | null;
  /** The series of the drum's level; null where it has none. */
  readonly level: string | null;
  /** A level by pressure reads salt water too high: it is believed only while there is none in the drum. */
  readonly onlyFresh: boolean;
}

/** What a level says against a float. */
interface AgainstLevel {
  /** By how much the level lies past where the float should have changed over, and how much it may, litres. */
  readonly pastL: number;
  readonly limitL: number;
}

const marginShare = 0.04;
const sigmas = 3;
/** A level has to say so for as long. */
export const onByLevel = { elapsedMs: 120_000 };
/** States of a batch in which no salt is in the drum. */
const fresh: ReadonlySet<BatchState> = new Set(["empty", "filling", "fresh"]);

/** What tells against a float of the line. */
export function besideFloat(line: Line, id: string): FloatBeside {
  const { drum, float } = compileLine(line).floats.get(id) as { drum: Drum; float: Float };
  const overflow = drum.floats.find(({ role }) => role === "overflow");
  return {
    drum,
    float,
    own: `float/${id}/state`,
    overflow: float.role === "stop" && overflow ? `float/${overflow.id}/state` : null,
    level: drum.level === null ? null : `drum/${drum.id}/volume`,
    onlyFresh: drum.holds === "salt" && drum.level?.as === "pressure",
  };
}

/** What tells anew of a float and of what speaks against it. */
export const hearsBesideFloat = ({
  own,
  overflow,
  level,
  onlyFresh,
  drum,
}: FloatBeside): readonly Heard[] => [
  ...(onlyFresh ? [{ cell: batchCell, key: drum.id }] : []),
  ...[own, overflow, level].flatMap((name) => (name === null ? [] : [series(name)])),
];

/** Whether a second witness tells that water passed a float: the level, or the overflow float over the stop float. */
export function hasSecondWitness(line: Line, id: string): boolean {
  const found = compileLine(line).floats.get(id);
  if (!found) return false;
  const { drum, float } = found;
  return drum.level != null || (float.role === "stop" && drum.floats.some(({ role }) => role === "overflow"));
}

/** The drum that a float stops; none where it stops none. */
export function drumStoppedBy(line: Line, id: string): readonly string[] {
  const found = compileLine(line).floats.get(id);
  return found?.float.role === "stop" ? [found.drum.id] : [];
}

/** The higher float is wet while this one is dry. */
export const isHigherWet = (board: BoardView, { own, overflow }: FloatBeside): boolean =>
  overflow !== null && readingOf(board, overflow)?.value === 1 && readingOf(board, own)?.value === 0;

/** Where it trips and releases, litres; null where nobody knows. */
function heightsOf({ tripsAtL, releasesAtL }: Float, now: FloatNow | undefined, release: number | null) {
  return { tripL: now?.setL ?? tripsAtL, releaseL: release ?? releasesAtL };
}

/** How the level stands to a float that is wet or dry; null where none tells. */
export function againstLevel(board: BoardView, beside: FloatBeside, isWet: boolean): AgainstLevel | null {
  const { drum, float, onlyFresh } = beside;
  if (onlyFresh && !fresh.has(board.get(batchCell, drum.id)?.state ?? "unknown")) return null;
  const said = board.get(witnessCell, drum.id);
  // As it was read: a level that contradicts its float is no witness of inflow, and yet one of the two is wrong.
  const level = beside.level === null ? null : readingOf(board, beside.level);
  if (!level) return null;
  const release = float.role === "stop" ? (said?.stop?.releasesAtL ?? null) : null;
  const { tripL, releaseL } = heightsOf(float, board.get(floatCell, float.id), release);
  const height = isWet ? releaseL : tripL;
  if (height === null) return null;
  const limitL = Math.max(marginShare * drum.volumeL, sigmas * (said?.level?.sigmaL ?? 0));
  return { pastL: isWet ? height - level.value : level.value - height, limitL };
}
