// Puts a SQLite file's log into the file and ends: the waits for the disk are this thread's.
import { DatabaseSync } from "node:sqlite";
import { workerData } from "node:worker_threads";

const database = new DatabaseSync(workerData as string);
try {
  database.exec("PRAGMA wal_checkpoint(PASSIVE)");
} finally {
  database.close();
}
