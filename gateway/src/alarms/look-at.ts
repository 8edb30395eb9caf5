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

/** What a condition looks at when it judges a slot: made once, since slots are judged at each reading. */
export class SlotLook implements Look<unknown, unknown> {
  readonly board: BoardView;
  readonly line: Around["line"];
  readonly subject: Slot["subject"];
  readonly place: unknown;
  readonly limits: unknown;
  readonly startedMs: number;
  readonly other: Look<unknown, unknown>["other"];
  private readonly slot: Slot;
  private readonly around: Around;

  constructor(slot: Slot, around: Around) {
    this.slot = slot;
    this.around = around;
    this.board = around.board;
    this.line = around.line;
    this.subject = slot.subject;
    this.place = slot.place;
    this.limits = slot.limits;
    this.startedMs = around.startedMs;
    this.other = (condition, name) => {
      const { row } = slot;
      if (!row.after?.includes(condition))
        throw new CellBorderError(`${row.id} looks at ${condition} and does not say so in "after".`);
      const found = around.slotOf(`${condition}:${name}`);
      return found ? standingOf(found) : null;
    };
  }

  get nowMs(): number {
    return this.around.nowMs;
  }

  get standing(): Standing | null {
    return standingOf(this.slot);
  }

  get resetAtMs(): number | null {
    return this.slot.resetAtMs;
  }
}
