import type { DatabaseSync, SQLInputValue, SQLOutputValue } from "node:sqlite";

/** A row as it stands in its table. */
export type Row = Readonly<Record<string, SQLOutputValue>>;

/** Writes outcomes of one kind. */
export interface RecordWriter<Outcome> {
  write(outcome: Outcome): void;
}

/** A record with its place: later records of a kind have greater ones. */
interface Placed<View> {
  readonly place: number;
  readonly record: View;
}

/** What is said of one kind of record. */
export interface RecordRow<Outcome extends { readonly kind: string }, View> {
  /** Of the outcomes that become such records. */
  readonly kind: Outcome["kind"];
  readonly table: string;
  /** The natural id: columns by which an outcome that comes again is known. */
  readonly key: readonly string[];
  /** What stands in each column. */
  readonly columns: Readonly<Record<string, (outcome: Outcome) => SQLInputValue>>;
  /** What becomes of an outcome that is there already; a condition may look at `excluded` (the new row) and the table. */
  readonly again: "first-stands" | "last-stands" | { readonly lastStandsIf: string };
  /** The column, or `rowid`, by which records follow each other: lists and exports go by it. */
  readonly order: string;
  /** The record as it is listed and exported. */
  readonly view: (row: Row) => View;
  /** SQL for each version of the logbook's schema in which the table changed. */
  readonly schema: Readonly<Record<number, string>>;
  /** For what is more than a row of its own: counts, changes only. Gets what writes the row. */
  readonly writes?: (database: DatabaseSync, put: RecordWriter<Outcome>) => RecordWriter<Outcome>;
}

/** One kind of record: its table, how it is written, listed and exported. */
export interface RecordKind<Outcome extends { readonly kind: string }, View> {
  readonly kind: Outcome["kind"];
  readonly schema: Readonly<Record<number, string>>;
  /** The record of a row of its table. */
  readonly view: (row: Row) => View;
  /** Prepares the statements of an open logbook. */
  writer(database: DatabaseSync): RecordWriter<Outcome>;
  /** Newest first; `before` is the place of the last one of the page before. Those of one place come together: it may be more. */
  page(database: DatabaseSync, limit: number, before?: number): readonly Placed<View>[];
  /** All of them, oldest first, one at a time. */
  all(database: DatabaseSync): Iterable<View>;
}

function insertInto<Outcome extends { readonly kind: string }>(
  { table, key, again }: Pick<RecordRow<Outcome, unknown>, "table" | "key" | "again">,
  columns: readonly string[],
): string {
  const insert = `INSERT INTO ${table} (${columns.join(", ")}) VALUES (${columns.map(() => "?").join(", ")})`;
  const set = columns
    .filter((name) => !key.includes(name))
    .map((name) => `${name} = excluded.${name}`)
    .join(", ");
  if (again === "first-stands") return `${insert} ON CONFLICT (${key.join(", ")}) DO NOTHING`;
  const condition = again === "last-stands" ? "" : ` WHERE ${again.lastStandsIf}`;
  return `${insert} ON CONFLICT (${key.join(", ")}) DO UPDATE SET ${set}${condition}`;
}

/** Makes a kind of record out of what is said of it. */
export function defineRecord<Outcome extends { readonly kind: string }, View>(
  row: RecordRow<Outcome, View>,
): RecordKind<Outcome, View> {
  const { kind, schema, table, order, view, columns, writes } = row;
  const names = Object.keys(columns);
  const valuesOf = Object.values(columns);
  return {
    kind,
    schema,
    view,
    writer(database) {
      const insert = database.prepare(insertInto(row, names));
      const put: RecordWriter<Outcome> = {
        write: (outcome) => void insert.run(...valuesOf.map((of) => of(outcome))),
      };
      return writes ? writes(database, put) : put;
    },
    page: (database, limit, before = Number.MAX_SAFE_INTEGER) =>
      database
        .prepare(
          `SELECT ${order} AS place, * FROM ${table} WHERE ${order} < :before AND ${order} >=
            (SELECT min(${order}) FROM (SELECT ${order} FROM ${table} WHERE ${order} < :before ORDER BY ${order} DESC LIMIT :limit))
           ORDER BY ${order} DESC`,
        )
        .all({ before, limit })
        .map((found) => ({ place: found.place as number, record: view(found) })),
    *all(database) {
      for (const found of database.prepare(`SELECT * FROM ${table} ORDER BY ${order}`).iterate())
        yield view(found);
    },
  };
}

/** What a column holds that was written with JSON.stringify. */
export function jsonOf<Value>(row: Row, column: string): Value {
  return JSON.parse(row[column] as string) as Value;
}

/** What is said of a kind of record whose outcomes are kept whole. */
interface WholeRow<Outcome extends { readonly kind: string }>
  extends Pick<RecordRow<Outcome, Outcome>, "kind" | "table" | "key" | "columns" | "schema"> {
  /** The column in which the whole outcome stands; the others are there to find it by. */
  readonly whole: string;
}

/** Makes a kind of record that is the outcome itself, listed in the order of writing: one that comes again stands as it came last. */
export function defineWholeRecord<Outcome extends { readonly kind: string }>({
  whole,
  columns,
  ...row
}: WholeRow<Outcome>): RecordKind<Outcome, Outcome> {
  return defineRecord<Outcome, Outcome>({
    ...row,
    columns: { ...columns, [whole]: (outcome) => JSON.stringify(outcome) },
    again: "last-stands",
    order: "rowid",
    view: (found) => jsonOf<Outcome>(found, whole),
  });
}
