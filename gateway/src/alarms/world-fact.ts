import type { BoardView } from "../path/index.ts";
import { type WorldFact, type WorldNow, worldCell, worldKey } from "../readings/index.ts";
import type { Heard } from "./condition.ts";

type FactName = Pick<WorldFact, "part" | "fact">;

/** A fact of the world that a condition hears. */
export const fact = (name: FactName): Heard => ({ cell: worldCell, key: worldKey(name) });

/** A fact as it is now; undefined: it was not told yet. */
export const factOf = (board: BoardView, name: FactName): WorldNow | undefined =>
  board.get(worldCell, worldKey(name));

/** A fact that is a number; null where it is none. */
export function numberOf(board: BoardView, name: FactName): number | null {
  const value = factOf(board, name)?.value;
  return typeof value === "number" ? value : null;
}
