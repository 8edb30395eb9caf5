import { existsSync, readdirSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync, type StatementSync } from "node:sqlite";
import { DatabaseError, inTransaction, openDatabase } from "../database/index.ts";
import { JournalError } from "./journal.ts";
import { finishSalvages, gapMark, insertEntry, salvage } from "./salvage.ts";
import type { EntryBatch, StoredEntry } from "./wire.ts";

const migrations = [
  "CREATE TABLE IF NOT EXISTS entry (seq INTEGER PRIMARY KEY, received_at INTEGER NOT NULL, kind INTEGER NOT NULL, topic TEXT, payload BLOB NOT NULL)",
];
const dayMs = 86_400_000;
const readAtOnce = 2000;

interface Segment {
  readonly path: string;
  readonly firstSeq: number;
}

function nameOf(firstSeq: number): string {
  return `journal-${String(firstSeq).padStart(12, "0")}.sqlite`;
}

function open(path: string): DatabaseSync {
  try {
    return openDatabase(path, migrations, { pragmas: ["wal_autocheckpoint = 4000"] });
  } catch (error) {
    if (error instanceof DatabaseError && error.code === "database-newer")
      throw new JournalError("journal-newer", error.message);
    throw error;
  }
}

/** Whether a segment can be read to its end; a damaged one is set aside and what can be read is saved. */
function isSound(database: DatabaseSync): boolean {
  try {
    const { quick_check: verdict } = database.prepare("PRAGMA quick_check(1)").get() as {
      quick_check: string;
    };
    // The check follows the tree; reading every row also finds a payload whose pages are gone.
    const read = database
      .prepare(
        "SELECT count(*) AS n, max(seq) - min(seq) + 1 AS span, total(length(payload || '')) FROM entry",
      )
      .get() as { n: number; span: number | null };
    const { application_id: mark } = database.prepare("PRAGMA application_id").get() as {
      application_id: number;
    };
    return verdict === "ok" && (mark === gapMark || read.span === null || read.span === read.n);
  } catch {
    return false;
  }
}

/** When the last entry of a sealed segment came; 0 of an empty one. */
function endOf({ path }: Segment): number {
  const database = new DatabaseSync(path, { readOnly: true });
  try {
    const end = database.prepare("SELECT received_at FROM entry ORDER BY seq DESC LIMIT 1").get();
    return (end?.received_at as number | undefined) ?? 0;
  } finally {
    database.close();
  }
}

/** The journal's files: one SQLite database each 64 MB or day, only the last one open for writing. */
export class Segments {
  private readonly folder: string;
  private readonly segmentBytes: number;
  private readonly maxPages: number;
  private readonly sealed: Segment[];
  private current: Segment;
  private database: DatabaseSync;
  private insert: StatementSync;
  private openedAt = 0;
  private bytes = 0;
  lastSeq = 0;
  lastReceivedAt = 0;
  /** Files that were damaged and set aside at this start. */
  readonly setAside: string[] = [];

  /** `maxPages` bounds each file (0: not at all), as a full disk would. */
  constructor(folder: string, segmentBytes: number, maxPages = 0) {
    this.maxPages = maxPages;
    this.folder = folder;
    this.segmentBytes = segmentBytes;
    finishSalvages(folder);
    const found = readdirSync(folder)
      .map((name) => /^journal-(\d{12})\.sqlite$/.exec(name))
      .filter((match) => match !== null)
      .map((match) => ({ path: join(folder, match[0]), firstSeq: Number(match[1]) }))
      .sort((a, b) => a.firstSeq - b.firstSeq);
    const last = found.pop() ?? { path: join(folder, nameOf(1)), firstSeq: 1 };
    this.sealed = found;
    this.current = last;
    this.database = this.openLast(last);
    this.insert = this.prepareInsert();
    this.readEnd();
  }

  private prepareInsert(): StatementSync {
    if (this.maxPages > 0) this.database.exec(`PRAGMA max_page_count = ${this.maxPages}`);
    return this.database.prepare(insertEntry);
  }

  private openLast(segment: Segment): DatabaseSync {
    let database: DatabaseSync | null = null;
    try {
      database = open(segment.path);
      if (isSound(database)) return database;
    } catch (error) {
      if (error instanceof JournalError) throw error;
    }
    database?.close();
    this.setAside.push(salvage(segment.path, open));
    return open(segment.path);
  }

  private readEnd(): void {
    const end = this.database.prepare("SELECT seq, received_at FROM entry ORDER BY seq DESC LIMIT 1").get() as
      | { seq: number; received_at: number }
      | undefined;
    this.lastSeq = end?.seq ?? this.current.firstSeq - 1;
    this.lastReceivedAt = end?.received_at ?? this.endOfSealed();
    const first = this.database.prepare("SELECT received_at FROM entry ORDER BY seq LIMIT 1").get() as
      | { received_at: number }
      | undefined;
    this.openedAt = first?.received_at ?? this.lastReceivedAt;
    this.bytes = existsSync(this.current.path) ? statSync(this.current.path).size : 0;
  }

  private endOfSealed(): number {
    const before = this.sealed.at(-1);
    if (!before) return 0;
    return endOf(before);
  }

  /** Writes a batch in one transaction; it is on disk when this returns. */
  write(batch: EntryBatch): void {
    const first = batch.receivedAt[0] ?? 0;
    if (
      this.lastSeq >= this.current.firstSeq &&
      (this.bytes >= this.segmentBytes ||
        first - this.openedAt >= dayMs ||
        // Numbers were lost with a damaged file: within one file they have no gap.
        batch.firstSeq !== this.lastSeq + 1)
    )
      this.rotate(batch.firstSeq, first);
    if (this.lastSeq < this.current.firstSeq) this.openedAt = first;
    inTransaction(this.database, () => {
      let begin = 0;
      for (let place = 0; place < batch.kinds.length; place += 1) {
        const end = batch.ends[place] as number;
        this.insert.run(
          batch.firstSeq + place,
          batch.receivedAt[place] as number,
          batch.kinds[place] as number,
          batch.topics[place] as string | null,
          batch.bytes.subarray(begin, end),
        );
        begin = end;
      }
    });
    this.lastSeq = batch.firstSeq + batch.kinds.length - 1;
    this.lastReceivedAt = batch.receivedAt[batch.kinds.length - 1] as number;
    this.bytes += batch.bytes.length + batch.kinds.length * 60;
  }

  private rotate(firstSeq: number, receivedAt: number): void {
    const next = { path: join(this.folder, nameOf(firstSeq)), firstSeq };
    // Opened first: where that fails (a full disk) the old file is still there to write to.
    const database = open(next.path);
    this.database.close();
    this.sealed.push(this.current);
    this.current = next;
    this.database = database;
    this.insert = this.prepareInsert();
    this.openedAt = receivedAt;
    this.bytes = 0;
  }

  /** The first entry that is still there, or will be. */
  get firstSeq(): number {
    return (this.sealed[0] ?? this.current).firstSeq;
  }

  /**
   * Removes sealed segments, oldest first, while all of one is at or before `safeSeq` and it is older than `keepMs`, or
   * all files together are over `keepBytes`.
   */
  prune(keep: {
    readonly safeSeq: number;
    readonly nowMs: number;
    readonly keepMs: number;
    readonly keepBytes: number;
  }): void {
    let bytes = this.bytes;
    for (const { path } of this.sealed) bytes += statSync(path).size;
    while (this.sealed[0]) {
      const [oldest, second = this.current] = this.sealed;
      const isOld = () => endOf(oldest) < keep.nowMs - keep.keepMs;
      if (second.firstSeq - 1 > keep.safeSeq || !(bytes > keep.keepBytes || isOld())) return;
      bytes -= statSync(oldest.path).size;
      for (const suffix of ["", "-wal", "-shm"]) rmSync(oldest.path + suffix, { force: true });
      this.sealed.shift();
    }
  }

  /** Up to 2,000 entries from `fromSeq`; empty at the end. */
  read(fromSeq: number): StoredEntry[] {
    const inside =
      [...this.sealed, this.current].findLast((segment) => segment.firstSeq <= fromSeq) ??
      this.sealed[0] ??
      this.current;
    for (const segment of [...this.sealed, this.current].filter(
      (candidate) => candidate.firstSeq >= inside.firstSeq,
    )) {
      const database =
        segment === this.current ? this.database : new DatabaseSync(segment.path, { readOnly: true });
      const rows = database
        .prepare(
          "SELECT seq, received_at AS receivedAt, kind, topic, payload FROM entry WHERE seq >= ? ORDER BY seq LIMIT ?",
        )
        .all(fromSeq, readAtOnce);
      if (segment !== this.current) database.close();
      if (rows.length > 0) return rows as unknown as StoredEntry[];
    }
    return [];
  }

  close(): void {
    this.database.close();
  }
}
