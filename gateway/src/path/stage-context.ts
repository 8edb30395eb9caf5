import { type Board, CellBorderError } from "./board.ts";
import type { Cell } from "./cell.ts";
import type { AnyStage, StageContext } from "./stage.ts";

/** What the composer itself gives to a stage: the time, the entry, a way to tell and to be woken. */
export type StageTimes = Pick<StageContext, "nowMs" | "entry" | "tell" | "wakeAt">;

/**
 * The context of one stage: `times` is read anew at each question. A cell that the stage does not name in `reads` or
 * `owns` can't be read, and only its own can be written: both throw CellBorderError.
 */
export function stageContext(stage: AnyStage, board: Board, times: StageTimes): StageContext {
  const readable = new Map([...stage.owns, ...stage.reads].map((cell) => [cell, board.valuesOf(cell)]));
  const writable = new Set<Cell<unknown>>(stage.owns);
  const read = (cell: Cell<unknown>): ReadonlyMap<string, unknown> => {
    const values = readable.get(cell);
    if (!values)
      throw new CellBorderError(`${stage.name} reads ${cell.name} and does not say so in "reads".`);
    return values;
  };
  return {
    get nowMs() {
      return times.nowMs;
    },
    get entry() {
      return times.entry;
    },
    get<Value>(cell: Cell<Value>, subject: string) {
      return read(cell).get(subject) as Value | undefined;
    },
    entries(cell) {
      read(cell);
      return board.entries(cell);
    },
    put(cell, subject, value) {
      if (!writable.has(cell))
        throw new CellBorderError(`${stage.name} writes ${cell.name}, which is not its own.`);
      board.put(cell, subject, value);
    },
    tell: times.tell,
    wakeAt: times.wakeAt,
  };
}
