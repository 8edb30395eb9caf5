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

type Row = Readonly<Record<string, SQLInputValue>>;

/** So many numbers are passed over at once in search of a row that can be read again, after one that can't. */
const stride = 8;
/** No row takes less, with what tells where it lies: bounds how far it is looked, bytes. */
const leastRowBytes = 16;

/** Rows of a table by their numbers, round each page that can't be read; gives whether there was none. */
function* numberedRows(from: DatabaseSync, table: string, columns: string): Generator<Row, boolean> {
  const asked = `SELECT rowid AS "carried rowid", ${columns} FROM "${table}" WHERE rowid >= ? ORDER BY rowid`;
  const number = (row: Row) => row["carried rowid"] as number;
  const probe = from.prepare(`${asked} LIMIT 1`);
  /** Null: can't be read. Undefined: there is none from there on. */
  const nextFrom = (first: number): Row | undefined | null => {
    try {
      return probe.get(first) as Row | undefined;
    } catch {
      return null;
    }
  };
  const sizeOf = (name: "page_count" | "page_size") =>
    Number(from.prepare(`PRAGMA ${name}`).get()?.[name] ?? 0);
  const bytes = sizeOf("page_count") * sizeOf("page_size");
  let isWhole = true;
  for (let next = Number.MIN_SAFE_INTEGER; ; ) {
    try {
      for (const row of from.prepare(asked).iterate(next)) {
        yield row as Row;
        next = number(row as Row) + 1;
      }
      return isWhole;
    } catch (error) {
      throwIfNotTaken(error);
      isWhole = false;
    }
    // Numbers begin at 1; what is before it is asked for but once.
    const bad = Math.max(next, 1);
    let found: Row | undefined | null = null;
    let ahead = bad;
    for (; found === null && ahead < bad + bytes / leastRowBytes; ahead += stride) found = nextFrom(ahead);
    if (found === null) return false;
    const reached = ahead - stride;
    // None from there on: the last ones may lie between.
    let nearest = found;
    for (let at = Math.max(bad, reached - stride + 1); at < reached; at += 1) {
      const before = nextFrom(at);
      if (before) {
        nearest = before;
        break;
      }
    }
    if (!nearest) return false;
    next = number(nearest);
  }
}

/** Rows of a table without numbers, by its key: from its begin to what can't be read, and from its end; gives whether all could be. */
function* keyedRows(
  from: DatabaseSync,
  table: string,
  columns: string,
  key: readonly string[],
): Generator<Row, boolean> {
  for (const way of ["ASC", "DESC"])
    try {
      const order = key.map((name) => `"${name}" ${way}`).join(", ");
      for (const row of from.prepare(`SELECT ${columns} FROM "${table}" ORDER BY ${order}`).iterate())
        yield row as Row;
      return way === "ASC";
    } catch (error) {
      throwIfNotTaken(error);
      // What lies beyond is read from the other end.
    }
  return false;
}

/** Gives whether every row could be read. */
function carryTable(from: DatabaseSync, into: DatabaseSync, table: string): boolean {
  const columns = from.prepare("SELECT name, type, pk FROM pragma_table_info(?)").all(table);
  const known = new Set(namesOf(into.prepare("SELECT name FROM pragma_table_info(?)").all(table)));
  const names = namesOf(columns).filter((name) => known.has(name));
  // A table that came with a later schema.
  if (names.length === 0) return true;
  const { wr: isWithoutRowid } = into
    .prepare("SELECT wr FROM pragma_table_list WHERE name = ?")
    .get(table) as {
    wr: number;
  };
  const keyed = columns.filter(({ pk }) => Number(pk) > 0).sort((a, b) => Number(a.pk) - Number(b.pk));
  const isNumber = keyed.length === 1 && keyed[0]?.type === "INTEGER";
  // Their numbers are their order.
  const given = isWithoutRowid || isNumber ? names : ["rowid", ...names];
  const insert = into.prepare(
    `INSERT OR IGNORE INTO "${table}" (${quoted(given)}) VALUES (${given.map(() => "?").join(", ")})`,
  );
  const rows = isWithoutRowid
    ? keyedRows(from, table, quoted(names), namesOf(keyed))
    : numberedRows(from, table, quoted(names));
  for (let next = rows.next(); ; next = rows.next()) {
    if (next.done) return next.value;
    const row = next.value;
    const values = names.map((name) => row[name] as SQLInputValue);
    put(insert, given === names ? values : [row["carried rowid"] as SQLInputValue, ...values]);
  }
}

/**
 * Puts every row of a damaged file that can still be read into a fresh one; a row that is there already stays. Gives the tables of
 * which some could not be read. Throws where there is no room for them, or the disk does not take one.
 */
export function carryRows(damaged: string, into: DatabaseSync): ReadonlySet<string> {
  let from: DatabaseSync | null = null;
  into.exec("PRAGMA foreign_keys = OFF");
  into.exec("BEGIN");
  const tables = namesOf(
    into.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'").all(),
  );
  const left = new Set(tables);
  try {
    from = new DatabaseSync(damaged);
    from.prepare("SELECT count(*) FROM sqlite_schema").get();
    for (const table of tables) {
      try {
        if (carryTable(from, into, table)) left.delete(table);
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
  return left;
}
