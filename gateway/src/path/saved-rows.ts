/** One row of the path's state: plain data of one stage (or of the board) under one key. */
export interface PathRow {
  readonly stage: string;
  readonly key: string;
  /** Undefined takes the row away. */
  readonly plain: unknown;
}

/** What changed since the last checkpoint. */
export interface PathChanges {
  /** The last entry that was run. */
  readonly seq: number;
  /** The version of each stage's rows. */
  readonly versions: Readonly<Record<string, number>>;
  readonly rows: readonly PathRow[];
}

/** The same, a row at a time: each is made when it is asked for, and nothing may be run before the last one is. */
export type PathTurn = Omit<PathChanges, "rows"> & { readonly rows: Iterable<PathRow> };

/** The state of the whole path as a checkpoint keeps it. */
export interface SavedPath {
  readonly seq: number;
  readonly versions: ReadonlyMap<string, number>;
  readonly rows: ReadonlyMap<string, ReadonlyMap<string, unknown>>;
}

/** Rows in memory, brought forward by changes: what a checkpoint file holds. */
export class SavedRows implements SavedPath {
  seq = 0;
  readonly versions = new Map<string, number>();
  readonly rows = new Map<string, Map<string, unknown>>();

  apply({ seq, versions, rows }: PathChanges): void {
    this.seq = seq;
    for (const [stage, version] of Object.entries(versions)) this.versions.set(stage, version);
    for (const { stage, key, plain } of rows) {
      let of = this.rows.get(stage);
      if (!of) {
        of = new Map();
        this.rows.set(stage, of);
      }
      if (plain === undefined) of.delete(key);
      else of.set(key, plain);
    }
  }
}
