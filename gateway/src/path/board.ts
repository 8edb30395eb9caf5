import type { Cell } from "./cell.ts";
import type { AnyStage, BoardView, StateRow } from "./stage.ts";

/** A cell is written by a stage that does not own it, or read by one that may not. A fault of the program. */
export class CellBorderError extends Error {
  readonly code = "cell-border";
}

/** Told when a value of a cell changes. */
export type CellListener = (cell: Cell<unknown>, subject: string) => void;

/** What is now: every cell's values, kept in the checkpoint. */
export class Board implements BoardView {
  private readonly values = new Map<Cell<unknown>, Map<string, unknown>>();
  private readonly byName = new Map<string, Cell<unknown>>();
  private readonly changed = new Map<Cell<unknown>, Set<string>>();
  private listeners: readonly CellListener[] = [];

  /** Takes the cells of a path's stages. Throws CellBorderError when one has two owners, or is read before it is written. */
  constructor(stages: readonly AnyStage[]) {
    for (const stage of stages) {
      for (const cell of stage.reads)
        if (!this.values.has(cell))
          throw new CellBorderError(
            `${stage.name} reads ${cell.name}, which no earlier stage owns: order the path anew.`,
          );
      for (const cell of stage.owns) {
        if (this.byName.has(cell.name))
          throw new CellBorderError(`${cell.name} has two owners, the second is ${stage.name}.`);
        this.byName.set(cell.name, cell);
        this.values.set(cell, new Map());
        this.changed.set(cell, new Set());
      }
    }
  }

  private of(cell: Cell<unknown>): Map<string, unknown> {
    const found = this.values.get(cell);
    if (!found) throw new CellBorderError(`No stage owns ${cell.name}.`);
    return found;
  }

  /** The values of a cell, by subject: to be read only. Throws CellBorderError for one that no stage owns. */
  valuesOf(cell: Cell<unknown>): ReadonlyMap<string, unknown> {
    return this.of(cell);
  }

  get<Value>(cell: Cell<Value>, subject: string): Value | undefined {
    return this.of(cell).get(subject) as Value | undefined;
  }

  entries<Value>(cell: Cell<Value>): IterableIterator<[string, Value]> {
    return this.of(cell).entries() as IterableIterator<[string, Value]>;
  }

  /** Replaces a value; undefined takes it away. */
  put<Value>(cell: Cell<Value>, subject: string, value: Value | undefined): void {
    const values = this.of(cell);
    if (value === undefined) {
      if (!values.delete(subject)) return;
    } else values.set(subject, value);
    this.changed.get(cell)?.add(subject);
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
    for (const [cell, subjects] of this.changed) {
      for (const subject of subjects) yield [`${cell.name} ${subject}`, this.of(cell).get(subject)];
      subjects.clear();
    }
  }

  /** Goes on from rows; values of cells that are no more are left out. */
  load(rows: ReadonlyMap<string, unknown>): void {
    for (const [key, value] of rows) {
      const space = key.indexOf(" ");
      const cell = this.byName.get(key.slice(0, space));
      if (cell) this.of(cell).set(key.slice(space + 1), value);
    }
  }
}
