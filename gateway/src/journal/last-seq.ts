import { DatabaseSync } from "node:sqlite";

/** The last entry of one file of the journal; null where it has none. Throws when it can't be read. */
export function lastSeqIn(path: string): number | null {
  const database = new DatabaseSync(path, { readOnly: true });
  try {
    const { n } = database.prepare("SELECT max(seq) AS n FROM entry").get() as { n: number | null };
    return n;
  } finally {
    database.close();
  }
}
