import { existsSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync, type StatementSync } from "node:sqlite";
import { DatabaseError, inTransaction, isDamage, openDatabase } from "../database/index.ts";
import { findSegments, type Segment, segmentName } from "./find-segments.ts";
import { type Gap, Gaps, gapText } from "./gaps.ts";
import { JournalError } from "./journal.ts";
import { entriesFrom, insertBatch, insertRow, migrations } from "./rows.ts";
import { finishSalvages, gapMark, salvage } from "./salvage.ts";
import { salvagedText } from "./salvaged-text.ts";
import type { EntryBatch, StoredEntry } from "./wire.ts";

const dayMs = 86_400_000;

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
        "SELECT sum(entries) AS n, max(seq) - min(seq - entries + 1) + 1 AS span, total(length(payload || '')) FROM entry",
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

/** When the first or the last entry of a sealed segment came; 0 of an empty one. */
function timeIn({ path }: Segment, which: "first" | "last"): number {
  const database = new DatabaseSync(path, { readOnly: true });
  try {
    const order = which === "first" ? "ASC" : "DESC";
    const one = database.prepare(`SELECT received_at FROM entry ORDER BY seq ${order} LIMIT 1`).get();
    return (one?.received_at as number | undefined) ?? 0;
  } finally {
    database.close();
  }
}

interface SegmentsOptions {
  readonly folder: string;
  readonly segmentBytes: number;
  /** Bounds each file (0: not at all), as a full disk would. */
  readonly maxPages: number;
  /** Names files that are set aside, epoch ms. */
  readonly nowMs: number;
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
  /** The last number that a damaged file was known to have. */
  private lostSeq = 0;
  /** Files that were damaged and set aside. */
  readonly setAside: string[] = [];
  /** What is wrong with the files, in plain words; also what is found while reading. */
  readonly faults: string[] = [];
  /** No number up to this one is given again. */
  readonly usedSeq: number;
  readonly accountedSeq: number;
  /** Entries that an earlier start could not read are there: all is to be run again. */
  readonly isSomethingBack: boolean;
  /** The file that lacks what was numbered after the last entry, and why. */
  readonly end: Pick<Gap, "path" | "why">;
  private readonly gaps: Gaps;
  /** When sealed segments begin, by their first number: looked up once. */
  private readonly begins = new Map<number, number>();

  constructor({ folder, segmentBytes, maxPages, nowMs }: SegmentsOptions) {
    this.maxPages = maxPages;
    this.folder = folder;
    this.segmentBytes = segmentBytes;
    finishSalvages(folder);
    this.gaps = new Gaps(folder);
    const found = findSegments(folder, this.gaps, migrations.length, nowMs);
    this.sealed = [...found.segments];
    const firstSeq = found.usedSeq + 1;
    this.current = this.sealed.pop() ?? { path: join(folder, segmentName(firstSeq)), firstSeq };
    this.database = this.openLast(this.current, found.accountedSeq);
    this.insert = this.prepareInsert();
    this.readEnd();
    this.usedSeq = Math.max(found.usedSeq, this.lastSeq, this.lostSeq);
    this.accountedSeq = Math.max(found.accountedSeq, this.lastSeq, this.lostSeq);
    this.faults.push(...found.faults, ...this.gaps.newOf(found.gaps).map(gapText));
    this.isSomethingBack = this.gaps.isSomethingBack(found.gaps, this.lastSeq);
    this.gaps.remember({
      firstSeq: this.gaps.firstSeq ?? this.firstSeq,
      newestSeq: this.current.firstSeq,
      gaps: found.gaps,
    });
    this.end = { path: found.missingLast ?? this.current.path, why: found.missingLast ? "missing" : "short" };
  }

  private prepareInsert(): StatementSync {
    if (this.maxPages > 0) this.database.exec(`PRAGMA max_page_count = ${this.maxPages}`);
    return this.database.prepare(insertRow);
  }

  private openLast(segment: Segment, knownSeq: number): DatabaseSync {
    let database: DatabaseSync | null = null;
    try {
      database = open(segment.path);
      if (isSound(database)) return database;
    } catch (error) {
      if (error instanceof JournalError) throw error;
    }
    database?.close();
    this.salvage(segment, knownSeq);
    return open(segment.path);
  }

  private salvage({ path, firstSeq: first }: Segment, last: number): void {
    const salvaged = salvage(path, { first, last }, open);
    this.setAside.push(salvaged.aside);
    this.faults.push(salvagedText(path, salvaged));
    this.lostSeq = Math.max(this.lostSeq, salvaged.lost.at(-1)?.[1] ?? 0);
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
    return timeIn(before, "last");
  }

  /** Writes a batch in one transaction; it is on disk when this returns. */
  write(batch: EntryBatch): void {
    const first = batch.receivedAt[0] ?? 0;
    if (batch.firstSeq > this.lastSeq + 1) this.gaps.add(this.lastSeq + 1, batch.firstSeq - 1);
    if (
      this.lastSeq >= this.current.firstSeq &&
      (this.bytes >= this.segmentBytes ||
        first - this.openedAt >= dayMs ||
        // Numbers were lost with a damaged file: within one file they have no gap.
        batch.firstSeq !== this.lastSeq + 1)
    )
      this.rotate(batch.firstSeq, first);
    if (this.lastSeq < this.current.firstSeq) this.openedAt = first;
    const bytes = inTransaction(this.database, () => insertBatch(this.insert, batch));
    this.lastSeq = batch.firstSeq + batch.kinds.length - 1;
    this.lastReceivedAt = batch.receivedAt[batch.kinds.length - 1] as number;
    this.bytes += bytes;
  }

  private rotate(firstSeq: number, receivedAt: number): void {
    const next = { path: join(this.folder, segmentName(firstSeq)), firstSeq };
    // Opened first: where that fails (a full disk) the old file is still there to write to.
    const database = open(next.path);
    this.database.close();
    this.sealed.push(this.current);
    this.current = next;
    this.gaps.remember({ newestSeq: firstSeq });
    this.database = database;
    this.insert = this.prepareInsert();
    this.openedAt = receivedAt;
    this.bytes = 0;
  }

  /** The first entry that is still there, or will be. */
  get firstSeq(): number {
    return (this.sealed[0] ?? this.current).firstSeq;
  }

  private beginOf(segment: Segment): number {
    const known = this.begins.get(segment.firstSeq) ?? timeIn(segment, "first");
    this.begins.set(segment.firstSeq, known);
    return known;
  }

  /**
   * How long the files after a segment were written to up to now, ms. Each holds a day at most: what a clock leapt by while the
   * machine was off makes nothing older.
   */
  private livedAfter(segment: Segment, nowMs: number): number {
    const later = this.sealed.filter(({ firstSeq }) => firstSeq > segment.firstSeq);
    const ends = [...later.slice(1).map((one) => this.beginOf(one)), this.openedAt];
    const spans = later.map((one, place) => (ends[place] as number) - this.beginOf(one));
    return [...spans, nowMs - this.openedAt].reduce((sum, ms) => sum + Math.min(dayMs, Math.max(0, ms)), 0);
  }

  /**
   * Removes sealed segments, oldest first, while all of one is at or before `safeSeq` and it is older than `keepMs`, by its dates
   * and by what was lived since, or all files together are over `keepBytes`.
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
      const isOld = () =>
        timeIn(oldest, "last") < keep.nowMs - keep.keepMs &&
        this.livedAfter(oldest, keep.nowMs) >= keep.keepMs;
      if (second.firstSeq - 1 > keep.safeSeq || !(bytes > keep.keepBytes || isOld())) return;
      this.gaps.letGo(second.firstSeq);
      bytes -= statSync(oldest.path).size;
      for (const suffix of ["", "-wal", "-shm"]) rmSync(oldest.path + suffix, { force: true });
      this.sealed.shift();
    }
  }

  /** Some 2,000 entries from `fromSeq`; empty at the end. A damaged file is saved when it is come upon. */
  read(fromSeq: number): StoredEntry[] {
    const inside =
      [...this.sealed, this.current].findLast((segment) => segment.firstSeq <= fromSeq) ??
      this.sealed[0] ??
      this.current;
    for (const segment of [...this.sealed, this.current].filter(
      (candidate) => candidate.firstSeq >= inside.firstSeq,
    )) {
      const rows = this.readSegment(segment, fromSeq);
      if (rows.length > 0) return rows;
    }
    return [];
  }

  private readSegment(segment: Segment, fromSeq: number): StoredEntry[] {
    const read = () => {
      if (segment === this.current) return entriesFrom(this.database, fromSeq);
      const database = new DatabaseSync(segment.path, { readOnly: true });
      try {
        return entriesFrom(database, fromSeq);
      } finally {
        database.close();
      }
    };
    try {
      return read();
    } catch (error) {
      if (!isDamage(error)) throw error;
      if (segment === this.current) this.salvageCurrent();
      else this.salvage(segment, this.afterIt(segment).firstSeq - 1);
      return read();
    }
  }

  private afterIt(segment: Segment): Segment {
    return this.sealed[this.sealed.indexOf(segment) + 1] ?? this.current;
  }

  private salvageCurrent(): void {
    this.database.close();
    try {
      this.salvage(this.current, this.lastSeq);
    } finally {
      this.database = open(this.current.path);
      this.insert = this.prepareInsert();
    }
  }

  close(): void {
    this.database.close();
  }
}
