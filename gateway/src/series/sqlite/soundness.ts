import { existsSync, rmSync, statSync, writeFileSync } from "node:fs";
import type { DatabaseSync } from "node:sqlite";
import { type FileFault, openOrRenew } from "../../database/index.ts";
import { Part } from "./part.ts";
import { migrations } from "./schema.ts";

/** Tables that every batch is written through; they stay small. */
const writtenThrough = ["meta", "series", "part", "family", "follower", "owed", "moved", "staged"];
/** A file up to this size is looked at whole: a tenth of a second. */
const wholeUpToBytes = 64 * 2 ** 20;

function numberOf(database: DatabaseSync, pragma: string): number {
  return Object.values(database.prepare(`PRAGMA ${pragma}`).get() as Record<string, number>)[0] as number;
}

function isReadable(data: Uint8Array): boolean {
  try {
    new Part(data);
    return true;
  } catch {
    return false;
  }
}

function* partsThatFail(database: DatabaseSync): Generator<number> {
  for (const { id, data } of database.prepare("SELECT id, data FROM part").iterate())
    if (!isReadable(data as Uint8Array)) yield id as number;
}

/**
 * Whether batches can be written to the file, and what is in no block yet can be read. Blocks of years are looked at only
 * when they are read.
 */
export function isSoundStore(database: DatabaseSync): boolean {
  const isSmall = numberOf(database, "page_count") * numberOf(database, "page_size") <= wholeUpToBytes;
  for (const of of isSmall ? ["1"] : writtenThrough) {
    const { quick_check: verdict } = database.prepare(`PRAGMA quick_check(${of})`).get() as {
      quick_check: string;
    };
    if (verdict !== "ok") return false;
  }
  return partsThatFail(database).next().done === true;
}

/**
 * Puts a file in order that has what could be read of a damaged one: parts that can't be read go, and no number of a part
 * is given again, by which it is told what is sealed and what was sent on. What is lost is run again from the journal.
 */
export function mendStore(database: DatabaseSync): void {
  for (const id of [...partsThatFail(database)]) database.prepare("DELETE FROM part WHERE id = ?").run(id);
  // What a store of the first schema still holds is moved again: the block that it was moved into may be lost.
  database.exec("DELETE FROM moved");
  const { last } = database
    .prepare(
      "SELECT max(coalesce((SELECT max(id) FROM part), 0), coalesce((SELECT max(sealed_part) FROM family), 0), coalesce((SELECT max(cursor) FROM follower), 0)) AS last",
    )
    .get() as { last: number };
  database.prepare("DELETE FROM sqlite_sequence WHERE name = 'part'").run();
  database.prepare("INSERT INTO sqlite_sequence (name, seq) VALUES ('part', ?)").run(last);
}

const markOf = (path: string) => `${path}.to-mend`;

/** Notes that a store was found damaged while it was used: whoever opens it next makes it again. */
export function markDamaged(path: string): void {
  writeFileSync(markOf(path), "found damaged\n", { mode: 0o600 });
}

/** Whether a store was found damaged while it was used. */
export function isMarkedDamaged(path: string): boolean {
  return existsSync(markOf(path));
}

/** The store has been made again. */
export function forgetMark(path: string): void {
  rmSync(markOf(path), { force: true });
}

/**
 * Makes a marked store again from what can be read of it; null where it is not marked. It then says that it has no entry's
 * rows, so that the next start runs the journal again into it.
 */
export function mendMarked(path: string): FileFault | null {
  if (!isMarkedDamaged(path)) return null;
  let found: FileFault | null = null;
  const nowMs = statSync(markOf(path)).mtimeMs;
  const database = openOrRenew(path, migrations, {
    nowMs,
    givesBack: true,
    isSound: () => found !== null,
    afterCarrying: mendStore,
    beforeRenewal: (fault) => {
      found = fault;
    },
  });
  database.exec("UPDATE meta SET stored_seq = 0");
  database.close();
  forgetMark(path);
  return found;
}
