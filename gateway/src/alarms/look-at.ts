import { type BoardView, type Cell, CellBorderError } from "../path/index.ts";
import type { AnyCondition, Look, Standing } from "./condition.ts";
import type { Slot } from "./slot.ts";

/** The board as one condition may see it. */
export function boardFor(row: AnyCondition, board: BoardView): BoardView {
  const readable = new Set<Cell<unknown>>(row.reads);
  const check = (cell: Cell<unknown>) => {
    if (!readable.has(cell))
      throw new CellBorderError(`${row.id} looks at ${cell.name} and does not say so in "reads".`);
  };
  return {
    get(cell, subject) {
      check(cell);
      return board.get(cell, subject);
    },
    entries(cell) {
      check(cell);
      return board.entries(cell);
    },
  };
}

/** The occurrence of a slot that stands; null while it is not so. */
function standingOf({ kept }: Slot): Standing | null {
  if (!kept?.core.active) return null;
  return { sinceMs: kept.raisedAtMs, isSeen: kept.core.acked, attention: kept.attention ?? "record" };
}

/** What else a look needs than its slot. */
export interface Around {
  readonly board: BoardView;
  readonly line: Look<unknown, unknown>["line"];
  readonly nowMs: number;
  readonly startedMs: number;
  readonly slotOf: (key: string) => Slot | undefined;
}

/** What a condition looks at when it judges a slot. */
export function lookAt(slot: Slot, around: Around): Look<unknown, unknown> {
  const { row, subject, place, limits, resetAtMs } = slot;
  return {
    board: around.board,
    line: around.line,
    subject,
    place,
    limits,
    nowMs: around.nowMs,
    startedMs: around.startedMs,
    standing: standingOf(slot),
    resetAtMs,
    other(condition, name) {
      if (!row.after?.includes(condition))
        throw new CellBorderError(`${row.id} looks at ${condition} and does not say so in "after".`);
      const found = around.slotOf(`${condition}:${name}`);
      return found ? standingOf(found) : null;
    },
  };
}
