import type { DatabaseSync, SQLInputValue, SQLOutputValue } from "node:sqlite";
import type { RecordKind } from "./define-record.ts";

/** Records of a table that are kept whole, and which of them are replaced. */
interface Standing<Told> {
  readonly table: string;
  /** The column by which a record is known among those that `where` finds. */
  readonly key: string;
  readonly keyOf: (record: Told) => SQLOutputValue;
  /** The column that holds the whole record. */
  readonly whole: string;
  /** Of [:from, :to); what else it names is given with the stretch. */
  readonly where: string;
}

/** Work that may pause wherever it yields, and what puts its outcome down: that goes into one transaction, without a pause. */
export type Replacing = Generator<undefined, () => void>;

interface Replaced {
  readonly fromMs: number;
  readonly toMs: number;
  readonly more?: Readonly<Record<string, SQLInputValue>>;
}

/** A pause after so much of a table (some 2,000 rows of a busy house), and after so many records. */
const sliceMs = 10 * 86_400_000;
const recordsAtOnce = 1000;

/**
 * What puts records of one kind in the place of those that stand in a stretch. They are compared before the transaction, some at a
 * time: of a past that is derived anew nearly all is said again word for word, and is left alone. What is written
 * meanwhile where it was compared already stays.
 */
export function replacerOf<Told extends { readonly kind: string }>(
  database: DatabaseSync,
  record: RecordKind<Told, Told>,
  { table, key, keyOf, whole, where }: Standing<Told>,
): (stretch: Replaced, told: readonly Told[]) => Replacing {
  const standing = database.prepare(
    `SELECT rowid AS place, ${key} AS name, ${whole} AS text FROM ${table} WHERE ${where}`,
  );
  const remove = database.prepare(`DELETE FROM ${table} WHERE rowid = ?`);
  const { write } = record.writer(database);
  return function* ({ fromMs, toMs, more }, told) {
    const left = new Map<
      SQLOutputValue,
      { readonly place: SQLOutputValue | undefined; readonly text: SQLOutputValue | undefined }
    >();
    for (let from = fromMs; from < toMs; from += sliceMs) {
      const bounds = { ...more, from, to: Math.min(toMs, from + sliceMs) };
      for (const { name = null, place, text } of standing.all(bounds)) left.set(name, { place, text });
      yield;
    }
    const changed: Told[] = [];
    for (const [index, one] of told.entries()) {
      const name = keyOf(one);
      if (left.get(name)?.text !== JSON.stringify(one)) changed.push(one);
      left.delete(name);
      if (index % recordsAtOnce === recordsAtOnce - 1) yield;
    }
    return () => {
      for (const one of changed) write(one);
      for (const { place } of left.values()) remove.run(place as number);
    };
  };
}

/** Several of them, one after the other. */
export function* replacingAll(all: Iterable<Replacing>): Replacing {
  const puts: (() => void)[] = [];
  for (const one of all) puts.push(yield* one);
  return () => {
    for (const put of puts) put();
  };
}
