import type { PathRow, PathTurn } from "../path/index.ts";
import { type StoredPlain, storedPlain } from "./state-row.ts";

/** A row as the file keeps it. */
export interface HeldRow {
  readonly stage: string;
  readonly key: string;
  /** Null takes the row away. */
  readonly stored: StoredPlain | null;
}

/** Changes as they are written: copied when they were given, whatever becomes of the state since. */
export interface HeldChanges {
  readonly seq: number;
  readonly versions: Readonly<Record<string, number>>;
  readonly rows: readonly HeldRow[];
  readonly bytes: number;
}

/** What is copied in one turn, at most: some 3 ms on a quick machine, where nobody says that it is over before. */
const rowsAtOnce = 800;
const bytesAtOnce = 256 * 1024;

/** So many rows are copied before it is asked again whether the turn is over: a power of two. */
const rowsBetweenLooks = 16;

/** Copies changed rows a turn at a time; what they are of must not change before all are copied. */
export class CheckpointCopy implements HeldChanges {
  readonly seq: number;
  readonly versions: Readonly<Record<string, number>>;
  readonly rows: HeldRow[] = [];
  bytes = 0;
  private readonly left: Iterator<PathRow>;
  private isWhole = false;

  constructor({ seq, versions, rows }: PathTurn) {
    this.seq = seq;
    this.versions = versions;
    this.left = rows[Symbol.iterator]();
  }

  /** Copies as many rows as go into one turn, or until `isOver`; false once all are copied. */
  copySome(isOver: () => boolean = () => false): boolean {
    const [untilRow, untilBytes] = [this.rows.length + rowsAtOnce, this.bytes + bytesAtOnce];
    while (!this.isWhole && this.rows.length < untilRow && this.bytes < untilBytes) {
      const { done, value } = this.left.next();
      if (done) this.isWhole = true;
      else this.copy(value);
      if (this.rows.length % rowsBetweenLooks === 0 && isOver()) break;
    }
    return !this.isWhole;
  }

  private copy({ stage, key, plain }: PathRow): void {
    const stored = plain === undefined ? null : storedPlain(plain);
    this.bytes += stored?.length ?? 0;
    this.rows.push({ stage, key, stored });
  }

  /** Copies what is left of them at once. */
  copyAll(): this {
    while (this.copySome());
    return this;
  }
}

/** Changes put together: the last word on each row. */
export function mergedChanges(all: readonly HeldChanges[]): HeldChanges {
  const rows = new Map(
    all.flatMap((one) => one.rows.map((row) => [`${row.stage}\n${row.key}`, row] as const)),
  );
  return {
    seq: all.at(-1)?.seq ?? 0,
    versions: Object.assign({}, ...all.map(({ versions }) => versions)),
    rows: [...rows.values()],
    bytes: [...rows.values()].reduce((sum, { stored }) => sum + (stored?.length ?? 0), 0),
  };
}
