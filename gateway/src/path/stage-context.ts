import { type Board, CellBorderError, type CellStore } from "./board.ts";
import type { Cell } from "./cell.ts";
import type { AnyStage, EntryMark, PathEvent, StageContext } from "./stage.ts";

/** The time and the entry of a composer, as its stages see them now. */
export interface StageTimes {
  engineMs: number;
  entry: EntryMark;
}

/** What the composer does for a stage. */
export interface StageCalls {
  tell(event: PathEvent): void;
  wakeAt(key: string, atMs: number | null): void;
}

/**
 * The context of one stage. A cell that the stage does not name in `reads` or `owns` can't be read, and only its own can
 * be written: both throw CellBorderError. One class for all stages: whoever asks for the time is answered by one field.
 */
export class ContextOfStage implements StageContext {
  readonly tell: StageContext["tell"];
  readonly wakeAt: StageContext["wakeAt"];
  private readonly name: string;
  private readonly board: Board;
  private readonly times: StageTimes;
  /** By the number of the cell. */
  private readonly readable: readonly (CellStore | undefined)[];
  private readonly writable: readonly (CellStore | undefined)[];

  constructor(stage: AnyStage, board: Board, times: StageTimes, { tell, wakeAt }: StageCalls) {
    const storesOf = (cells: readonly Cell<unknown>[]) => {
      const stores: (CellStore | undefined)[] = [];
      for (const cell of cells) stores[cell.number] = board.storeOf(cell);
      return Array.from(stores);
    };
    this.name = stage.name;
    this.board = board;
    this.times = times;
    this.readable = storesOf([...stage.owns, ...stage.reads]);
    this.writable = storesOf(stage.owns);
    this.tell = tell;
    this.wakeAt = wakeAt;
  }

  get nowMs(): number {
    return this.times.engineMs;
  }

  get entry(): EntryMark {
    return this.times.entry;
  }

  get<Value>(cell: Cell<Value>, subject: string): Value | undefined {
    return this.read(cell).values.get(subject) as Value | undefined;
  }

  entries<Value>(cell: Cell<Value>): IterableIterator<[string, Value]> {
    return this.read(cell).values.entries() as IterableIterator<[string, Value]>;
  }

  put<Value>(cell: Cell<Value>, subject: string, value: Value | undefined): void {
    const store = this.writable[cell.number];
    if (!store) throw new CellBorderError(`${this.name} writes ${cell.name}, which is not its own.`);
    this.board.putInto(store, subject, value);
  }

  private read(cell: Cell<unknown>): CellStore {
    const store = this.readable[cell.number];
    if (!store) throw new CellBorderError(`${this.name} reads ${cell.name} and does not say so in "reads".`);
    return store;
  }
}
