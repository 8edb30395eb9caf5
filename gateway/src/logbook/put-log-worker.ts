// Puts a SQLite file's log into the file and ends: the waits for the disk are this thread's.
import { DatabaseSync } from "node:sqlite";
import { workerData } from "node:worker_threads";

/** What was written meanwhile is short, and is put there the next time round: only a log that is there whole begins anew. */
const maxRounds = 10;

const database = new DatabaseSync(workerData as string);
try {
  const put = database.prepare("PRAGMA wal_checkpoint(PASSIVE)");
  for (let round = 0; round < maxRounds; round += 1) {
    const { log, checkpointed } = put.get() as { readonly log: number; readonly checkpointed: number };
    if (log === checkpointed) break;
  }
} finally {
  database.close();
}
