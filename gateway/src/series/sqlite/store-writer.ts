import { inTransaction } from "../../database/index.ts";
import type { Columns, RowBatch } from "../columns.ts";
import { settled } from "../columns.ts";
import { type HeadView, headRows } from "../head.ts";
import { besideSettled, bySeries, changedRows, hasBeside, maxBesideMs } from "../row-batch.ts";
import type { Written } from "../series-store.ts";
import type { BlockFile } from "./block-file.ts";
import { familyOf, partBytes } from "./part.ts";
import type { Sealing } from "./sealing.ts";
import type { StoreReader } from "./store-reader.ts";

/** Numbers of series with their names. */
export type NumberedNames = readonly (readonly [number: number, name: string])[];

/** What is committed: rows of the head, and how far the entries are that gave them. */
export interface CommitRequest {
  readonly names: NumberedNames;
  readonly head: HeadView;
  /** The last entry of which all rows are in the head; null where rows come without entries. */
  readonly seq: number | null;
  /** Whether the disk has it when this returns; else the next one that asks so waits for it too. */
  readonly isDurable: boolean;
}

/** Rows of which those that say something new are taken. */
interface Changing extends Pick<CommitRequest, "names" | "isDurable"> {
  readonly batch: RowBatch;
}

/** Writes batches: rows of the head, and rows that are to stand at once. */
export class StoreWriter {
  private readonly file: BlockFile;
  private readonly reader: StoreReader;
  private readonly sealing: Sealing;

  constructor(file: BlockFile, reader: StoreReader, sealing: Sealing) {
    this.file = file;
    this.reader = reader;
    this.sealing = sealing;
  }

  /** Writes what the head holds and the file does not; gives how many rows the file has had in its life. */
  commit({ names, head, seq, isDurable }: CommitRequest): number {
    const { rows: had } = this.file.sql("SELECT rows FROM meta").get() as { rows: number };
    const came = bySeries(headRows(head, had));
    this.durably(isDurable, () => {
      this.putNames(names);
      this.putParts(this.rowsByFamily(came));
      // Changes something in any case: an empty commit makes no fsync.
      this.file
        .sql(
          "UPDATE meta SET rows = ?, stored_seq = CASE WHEN ? IS NULL THEN stored_seq ELSE max(coalesce(stored_seq, 0), ?) END, barrier = barrier + 1",
        )
        .run(Math.max(had, head.toRow), seq, seq);
    });
    return Math.max(had, head.toRow);
  }

  /** Writes a batch that is on disk when this returns; rows that say the same as what stands are not written again. */
  write(names: NumberedNames, batch: RowBatch): Written {
    return this.changing({ names, batch, isDurable: true }, (families) => this.putParts(families));
  }

  /** Puts aside what a batch would change, where no question finds it; the next durable commit puts it on disk. */
  stage(job: string, names: NumberedNames, batch: RowBatch): Written {
    return this.changing({ names, batch, isDurable: false }, (families) => {
      for (const part of partsOf(families))
        this.file
          .sql("INSERT INTO staged (job, family, first_ms, last_ms, rows, data) VALUES (?, ?, ?, ?, ?, ?)")
          .run(job, part.family, part.firstMs, part.lastMs, part.rows, part.data);
    });
  }

  /** What was put aside for a job stands from now on, all at once; a job of which nothing lies there changes nothing. */
  publish(job: string): void {
    const came: { family: number; firstMs: number; lastMs: number }[] = [];
    this.durably(true, () => {
      for (const { family, first_ms, last_ms } of this.file
        .sql("SELECT family, first_ms, last_ms FROM staged WHERE job = ?")
        .iterate(job))
        came.push({ family: family as number, firstMs: first_ms as number, lastMs: last_ms as number });
      this.file
        .sql(
          "INSERT INTO part (family, first_ms, last_ms, rows, data) SELECT family, first_ms, last_ms, rows, data FROM staged WHERE job = ? ORDER BY id",
        )
        .run(job);
      this.discard(job);
    });
    for (const part of came) this.sealing.came(part.family, part);
  }

  /** What was put aside for a job goes. */
  discard(job: string): void {
    this.file.sql("DELETE FROM staged WHERE job = ?").run(job);
  }

  /** Jobs of which rows lie aside. */
  staged(): string[] {
    return this.file
      .sql("SELECT DISTINCT job FROM staged")
      .all()
      .map(({ job }) => job as string);
  }

  /** Works on the rows of a batch that say something else than what stands, in one transaction. */
  private changing(
    { names, batch, isDurable }: Changing,
    work: (families: ReadonlyMap<number, ReadonlyMap<number, Columns>>) => void,
  ): Written {
    let replaced = 0;
    this.durably(isDurable, () => {
      this.putNames(names);
      const families = new Map<number, Map<number, Columns>>();
      for (const [series, came] of bySeries(batch)) {
        const standing = this.standing(series, came);
        const rows = hasBeside(came) ? besideSettled(came, standing) : settled(came);
        const changed = changedRows(rows, standing);
        replaced += changed.replaced;
        if (changed.rows.tMs.length > 0) familyIn(families, series).set(series, changed.rows);
      }
      work(families);
      this.file.sql("UPDATE meta SET barrier = barrier + 1").run();
    });
    return { written: batch.tMs.length, replaced };
  }

  private durably(isDurable: boolean, work: () => void): void {
    this.file.database.exec(`PRAGMA synchronous = ${isDurable ? "FULL" : "NORMAL"}`);
    try {
      inTransaction(this.file.database, work);
    } catch (error) {
      this.file.forgetParts();
      this.sealing.look();
      throw error;
    }
  }

  private putNames(names: NumberedNames): void {
    for (const [number, name] of names)
      this.file.sql("INSERT OR IGNORE INTO series (id, name) VALUES (?, ?)").run(number, name);
  }

  /** What stands where rows came, and where one of them may find a free millisecond. */
  private standing(series: number, { tMs }: Columns): Columns {
    let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const at of tMs) {
      if (at < first) first = at;
      if (at > last) last = at;
    }
    return this.reader.rowsOf(series, { fromMs: first, toMs: last + maxBesideMs + 1 });
  }

  private rowsByFamily(came: ReadonlyMap<number, Columns>): Map<number, Map<number, Columns>> {
    const families = new Map<number, Map<number, Columns>>();
    for (const [series, rows] of came)
      familyIn(families, series).set(
        series,
        hasBeside(rows) ? besideSettled(rows, this.standing(series, rows)) : settled(rows),
      );
    return families;
  }

  private putParts(families: ReadonlyMap<number, ReadonlyMap<number, Columns>>): void {
    for (const part of partsOf(families)) {
      this.file
        .sql("INSERT INTO part (family, first_ms, last_ms, rows, data) VALUES (?, ?, ?, ?, ?)")
        .run(part.family, part.firstMs, part.lastMs, part.rows, part.data);
      this.sealing.came(part.family, part);
    }
  }
}

/** Rows of series as parts, one for each family. */
function* partsOf(families: ReadonlyMap<number, ReadonlyMap<number, Columns>>) {
  for (const [family, series] of families) {
    let [firstMs, lastMs, rows] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
    for (const { tMs } of series.values()) {
      firstMs = Math.min(firstMs, tMs[0] as number);
      lastMs = Math.max(lastMs, tMs.at(-1) as number);
      rows += tMs.length;
    }
    yield { family, firstMs, lastMs, rows, data: partBytes(series) };
  }
}

function familyIn(families: Map<number, Map<number, Columns>>, series: number): Map<number, Columns> {
  const family = familyOf(series);
  const known = families.get(family);
  if (known) return known;
  const made = new Map<number, Columns>();
  families.set(family, made);
  return made;
}
