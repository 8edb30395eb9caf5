import { DatabaseSync, type SQLInputValue, type StatementSync } from "node:sqlite";
import { isDiskFault } from "./disk-fault.ts";

const namesOf = (rows: readonly Record<string, unknown>[]) => rows.map(({ name }) => name as string);
const quoted = (names: readonly string[]) => names.map((name) => `"${name}"`).join(", ");

/** SQLITE_FULL: it is for want of room, and never of what is read. */
const full = 13;

/** What the disk does not take of a row that could be read. */
class NotTaken extends Error {}

function throwIfNotTaken(error: unknown): void {
  const isFull = (((error as { readonly errcode?: number }).errcode ?? 0) & 0xff) === full;
  if (isFull || error instanceof NotTaken) throw error;
}

/** Throws NotTaken where the disk fails: it must not pass for a row that can't be read. */
function put(insert: StatementSync, values: readonly SQLInputValue[]): void {
  try {
    insert.run(...values);
  } catch (error) {
    throw isDiskFault(error) ? new NotTaken((error as Error).message, { cause: error }) : error;
  }
}

/** Rows of a table by its key, one way or the other, until one can't be read. */
function carryTable(from: DatabaseSync, into: DatabaseSync, table: string): void {
  const columns = from.prepare("SELECT name, pk FROM pragma_table_info(?)").all(table);
  const known = new Set(namesOf(into.prepare("SELECT name FROM pragma_table_info(?)").all(table)));
  const names = namesOf(columns).filter((name) => known.has(name));
  if (names.length === 0) return;
  const insert = into.prepare(
    `INSERT OR IGNORE INTO "${table}" (${quoted(names)}) VALUES (${names.map(() => "?").join(", ")})`,
  );
  const { wr: isWithoutRowid } = into
    .prepare("SELECT wr FROM pragma_table_list WHERE name = ?")
    .get(table) as {
    wr: number;
  };
  const keyed = columns.filter(({ pk }) => Number(pk) > 0).sort((a, b) => Number(a.pk) - Number(b.pk));
  const key = isWithoutRowid ? namesOf(keyed) : ["rowid"];
  for (const way of ["ASC", "DESC"]) {
    try {
      const order = key.map((name) => `"${name}" ${way}`).join(", ");
      for (const row of from.prepare(`SELECT ${quoted(names)} FROM "${table}" ORDER BY ${order}`).iterate())
        put(insert, names.map((name) => row[name]) as SQLInputValue[]);
      return;
    } catch (error) {
      throwIfNotTaken(error);
      // What lies beyond is read from the other end.
    }
  }
}

/**
 * Puts every row of a damaged file that can still be read into a fresh one; a row that is there already stays. Throws where
 * there is no room for them, or the disk does not take one.
 */
export function carryRows(damaged: string, into: DatabaseSync): void {
  let from: DatabaseSync | null = null;
  into.exec("PRAGMA foreign_keys = OFF");
  into.exec("BEGIN");
  try {
    from = new DatabaseSync(damaged);
    const tables = into.prepare(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'",
    );
    for (const table of namesOf(tables.all())) {
      try {
        carryTable(from, into, table);
      } catch (error) {
        throwIfNotTaken(error);
        // A table of which nothing can be read.
      }
    }
  } catch (error) {
    throwIfNotTaken(error);
    // A file of which nothing can be read.
  } finally {
    from?.close();
  }
  into.exec("COMMIT");
  into.exec("PRAGMA foreign_keys = ON");
}
