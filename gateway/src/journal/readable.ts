import type { JournalEntry } from "../readings/index.ts";
import { entryOf, type StoredEntry } from "./wire.ts";

/** So many entries that can't be read are told of by number in one run; of more it is said once that there are more. */
const maxTold = 20;

/** Reads stored rows. What is no entry any more stays where it is, is told of once, and keeps nobody from the others. */
export class Readable {
  private readonly tell: (text: string) => void;
  private readonly told = new Set<number>();

  constructor(tell: (text: string) => void) {
    this.tell = tell;
  }

  /** The entries of rows, in their order, without those that can't be read. */
  entriesOf(rows: readonly StoredEntry[]): readonly JournalEntry[] {
    const entries: JournalEntry[] = [];
    for (const row of rows)
      try {
        entries.push(entryOf(row));
      } catch (error) {
        this.leaveOut(row.seq, error);
      }
    return entries;
  }

  private leaveOut(seq: number, error: unknown): void {
    if (this.told.has(seq) || this.told.size > maxTold) return;
    this.told.add(seq);
    const why = error instanceof Error ? error.message : String(error);
    this.tell(
      this.told.size > maxTold
        ? `more than ${maxTold} entries of the journal can't be read; the others are told of no more`
        : `entry ${seq} of the journal can't be read and is left out: ${why}. It stays in its file; look at the disk.`,
    );
  }
}
