import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";

/** The barrier's schema, by version. */
export const barrierSchema: Readonly<Record<number, string>> = {
  5: "CREATE TABLE barrier (one INTEGER PRIMARY KEY CHECK (one = 1), count INTEGER NOT NULL); INSERT INTO barrier VALUES (1, 0);",
  7: "ALTER TABLE barrier ADD COLUMN stored_seq INTEGER;",
};

/**
 * Records are written without waiting for the disk: the journal has them, and they are run again from the last
 * checkpoint. Before a checkpoint the barrier waits for all of them: a transaction with `synchronous = FULL` syncs the
 * log, and it must change something, since an empty commit makes no fsync. It also says up to which entry of the journal
 * the records are here: a file that is behind the checkpoint (its log was cut, an old copy was put back) is seen by it.
 */
export function barrierOf(database: DatabaseSync) {
  database.exec("PRAGMA synchronous = NORMAL");
  const count = database.prepare("UPDATE barrier SET count = count + 1");
  const reached = database.prepare(
    "UPDATE barrier SET stored_seq = ?1 WHERE stored_seq IS NULL OR stored_seq < ?1",
  );
  const stored = database.prepare("SELECT stored_seq FROM barrier");
  const reach = (seq: number): void => {
    reached.run(seq);
  };
  return {
    /** In the transaction of what is written. */
    reach,
    storedSeq: (): number | null => stored.get()?.stored_seq as number | null,
    sync(seq?: number): void {
      database.exec("PRAGMA synchronous = FULL");
      try {
        inTransaction(database, () => {
          count.run();
          if (seq !== undefined) reach(seq);
        });
      } finally {
        database.exec("PRAGMA synchronous = NORMAL");
      }
    },
  };
}
