import type { Cell } from "./cell.ts";
import type { AnyStage, BoardView, StateRow } from "./stage.ts";

/** A cell is written by a stage that does not own it, or read by one that may not. A fault of the program. */
export class CellBorderError extends Error {
  readonly code = "cell-border";
}

/** Told when a value of a cell changes. */
export type CellListener = (cell: Cell<unknown>, subject: string) => void;

/** The values of one cell by subject, and the subjects that changed since the last checkpoint. */
export interface CellStore {
  readonly cell: Cell<unknown>;
  readonly values: Map<string, unknown>;
  readonly changed: Set<string>;
}

/** What is now: every cell's values, kept in the checkpoint. */
export class Board implements BoardView {
  private readonly stores = new Map<Cell<unknown>, CellStore>();
  private readonly byName = new Map<string, CellStore>();
  private listeners: readonly CellListener[] = [];

  /** Takes the cells of a path's stages. Throws CellBorderError when one has two owners, or is read before it is written. */
  constructor(stages: readonly AnyStage[]) {
    for (const stage of stages) {
      for (const cell of stage.reads)
        if (!this.stores.has(cell))
          throw new CellBorderError(
            `${stage.name} reads ${cell.name}, which no earlier stage owns: order the path anew.`,
          );
      for (const cell of stage.owns) {
        if (this.byName.has(cell.name))
          throw new CellBorderError(`${cell.name} has two owners, the second is ${stage.name}.`);
        const store: CellStore = { cell, values: new Map(), changed: new Set() };
        this.byName.set(cell.name, store);
        this.stores.set(cell, store);
      }
    }
  }

  /** The values of a cell. Throws CellBorderError for one that no stage owns. */
  storeOf(cell: Cell<unknown>): CellStore {
    const found = this.stores.get(cell);
    if (!found) throw new CellBorderError(`No stage owns ${cell.name}.`);
    return found;
  }

  get<Value>(cell: Cell<Value>, subject: string): Value | undefined {
    return this.storeOf(cell).values.get(subject) as Value | undefined;
  }

  entries<Value>(cell: Cell<Value>): IterableIterator<[string, Value]> {
    return this.storeOf(cell).values.entries() as IterableIterator<[string, Value]>;
  }

  /** Replaces a value; undefined takes it away. */
  put<Value>(cell: Cell<Value>, subject: string, value: Value | undefined): void {
    this.putInto(this.storeOf(cell), subject, value);
  }

  /** The same, by whoever has looked the cell up before. */
  putInto({ cell, values, changed }: CellStore, subject: string, value: unknown): void {
    if (value === undefined) {
      if (!values.delete(subject)) return;
    } else values.set(subject, value);
    changed.add(subject);
    for (const listener of this.listeners) listener(cell, subject);
  }

  /** Tells of each change; gives the way to stop. */
  onChange(listener: CellListener): () => void {
    this.listeners = [...this.listeners, listener];
    return () => {
      this.listeners = this.listeners.filter((one) => one !== listener);
    };
  }

  /** Values that changed since the last call, as rows `cell subject`. */
  *dirty(): Iterable<StateRow> {
    for (const { cell, values, changed } of this.stores.values()) {
      for (const subject of changed) yield [`${cell.name} ${subject}`, values.get(subject)];
      changed.clear();
    }
  }

  /** Goes on from rows; values of cells that are no more are left out. */
  load(rows: ReadonlyMap<string, unknown>): void {
    for (const [key, value] of rows) {
      const space = key.indexOf(" ");
      this.byName.get(key.slice(0, space))?.values.set(key.slice(space + 1), value);
    }
  }
}
