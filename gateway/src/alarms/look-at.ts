import { type BoardView, type Cell, CellBorderError } from "../path/index.ts";
import type { AnyCondition, Look, Standing } from "./condition.ts";
import type { Slot } from "./slot.ts";

/** The board as one condition may see it: what it does not say in "reads" throws CellBorderError. */
export class BoardOfRow implements BoardView {
  private readonly row: AnyCondition;
  private readonly board: BoardView;
  /** By the number of the cell. */
  private readonly readable: readonly (true | undefined)[];

  constructor(row: AnyCondition, board: BoardView) {
    this.row = row;
    this.board = board;
    const readable: (true | undefined)[] = [];
    for (const { number } of row.reads) readable[number] = true;
    this.readable = Array.from(readable);
  }

  get<Value>(cell: Cell<Value>, subject: string): Value | undefined {
    if (!this.readable[cell.number]) this.refuse(cell);
    return this.board.get(cell, subject);
  }

  entries<Value>(cell: Cell<Value>): IterableIterator<[string, Value]> {
    if (!this.readable[cell.number]) this.refuse(cell);
    return this.board.entries(cell);
  }

  private refuse({ name }: Cell<unknown>): never {
    throw new CellBorderError(`${this.row.id} looks at ${name} and does not say so in "reads".`);
  }
}

/** The occurrence of a slot that stands; null while it is not so. */
function standingOf({ kept }: Slot): Standing | null {
  if (!kept?.core.active) return null;
  return { sinceMs: kept.raisedAtMs, isSeen: kept.core.acked, attention: kept.attention ?? "record" };
}

/** What else a look needs than its slot. */
export interface Around {
  readonly board: BoardView;
  /** Knows the time. */
  readonly ctx: { readonly nowMs: number };
  readonly line: Look<unknown, unknown>["line"];
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
  private readonly ctx: Around["ctx"];

  constructor(slot: Slot, around: Around) {
    this.slot = slot;
    this.ctx = around.ctx;
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
    return this.ctx.nowMs;
  }

  get standing(): Standing | null {
    return standingOf(this.slot);
  }

  get resetAtMs(): number | null {
    return this.slot.resetAtMs;
  }
}
