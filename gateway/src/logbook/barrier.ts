import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";

/** The barrier's schema, by version. */
export const barrierSchema: Readonly<Record<number, string>> = {
  5: "CREATE TABLE barrier (one INTEGER PRIMARY KEY CHECK (one = 1), count INTEGER NOT NULL); INSERT INTO barrier VALUES (1, 0);",
};

/**
 * Records are written without waiting for the disk: the journal has them, and they are run again from the last
 * checkpoint. Before a checkpoint the barrier waits for all of them: a transaction with `synchronous = FULL` syncs the
 * log, and it must change something, since an empty commit makes no fsync.
 */
export function barrierOf(database: DatabaseSync): { readonly sync: () => void } {
  database.exec("PRAGMA synchronous = NORMAL");
  const count = database.prepare("UPDATE barrier SET count = count + 1");
  return {
    sync() {
      database.exec("PRAGMA synchronous = FULL");
      try {
        inTransaction(database, () => count.run());
      } finally {
        database.exec("PRAGMA synchronous = NORMAL");
      }
    },
  };
}
