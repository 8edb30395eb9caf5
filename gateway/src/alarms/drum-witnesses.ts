import type { FloatRole, Line } from "../line/index.ts";
import type { BoardView } from "../path/index.ts";
import type { Heard } from "./condition.ts";
import { readingOf, series, type ValidReading } from "./reading-of.ts";

/** A drum's float of one role and its level: what tells whether its water is too high, or too low. */
export interface DrumWitnesses {
  /** Their series; there may be nothing in one of them. */
  readonly float: string;
  readonly level: string;
  /** How many of the two the drum has. */
  readonly count: number;
  readonly volumeL: number;
}

/** What a drum has of the two. */
export function drumWitnesses(line: Line, id: string, role: FloatRole): DrumWitnesses {
  const drum = line.drums.find((one) => one.id === id);
  const hasFloat = drum?.floats.some((float) => float.role === role) === true;
  return {
    float: `float/${id}.${role}/state`,
    level: `drum/${id}/volume`,
    count: (hasFloat ? 1 : 0) + (drum?.level ? 1 : 0),
    volumeL: drum?.volumeL ?? Number.NaN,
  };
}

/** What tells anew of such a drum. */
export const hearsWitnesses = ({ float, level }: DrumWitnesses): readonly Heard[] => [
  series(float),
  series(level),
];

/** What they say now; null of one that says nothing. */
export const witnessesNow = (
  board: BoardView,
  { float, level }: DrumWitnesses,
): { readonly float: ValidReading | null; readonly level: ValidReading | null } => ({
  float: readingOf(board, float),
  level: readingOf(board, level),
});
