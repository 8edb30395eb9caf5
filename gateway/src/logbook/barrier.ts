import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";
import { writeLogOf } from "./write-log.ts";

/** The barrier's schema, by version. */
export const barrierSchema: Readonly<Record<number, string>> = {
  5: "CREATE TABLE barrier (one INTEGER PRIMARY KEY CHECK (one = 1), count INTEGER NOT NULL); INSERT INTO barrier VALUES (1, 0);",
  7: "ALTER TABLE barrier ADD COLUMN stored_seq INTEGER;",
};

/** A log that grew to this though it could not be put into its file by then is put there at once: pages of 4 kB. */
const maxLogPages = 16_000;

/**
 * Records are written without waiting for the disk: the journal has them, and they are run again from the last
 * checkpoint. Before a checkpoint the barrier waits until the log with all of them is on disk, beside everything else.
 * It also says up to which entry of the journal the records are here: a file that is behind the checkpoint (its log was
 * cut, an old copy was put back) is seen by it.
 */
export function barrierOf(database: DatabaseSync) {
  const count = database.prepare("UPDATE barrier SET count = count + 1");
  // Once with everything on disk, the log's own name among it.
  inTransaction(database, () => count.run());
  database.exec(
    `PRAGMA synchronous = NORMAL; PRAGMA wal_autocheckpoint = ${maxLogPages}; PRAGMA journal_size_limit = 0`,
  );
  const log = writeLogOf(database.location() ?? "");
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
    async sync(seq?: number): Promise<void> {
      if (seq !== undefined) inTransaction(database, () => reach(seq));
      await log.sync();
    },
    close: log.close,
  };
}
