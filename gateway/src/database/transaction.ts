import type { DatabaseSync } from "node:sqlite";

/**
 * Runs work in one transaction that may write: all of it stands, or nothing does. Inside another one it is a part of
 * that. Throws what the work throws.
 */
export function inTransaction<Result>(database: DatabaseSync, work: () => Result): Result {
  if (database.isTransaction) return work();
  database.exec("BEGIN IMMEDIATE");
  try {
    const result = work();
    database.exec("COMMIT");
    return result;
  } catch (error) {
    // On a full disk SQLite has rolled back by itself.
    if (database.isTransaction) database.exec("ROLLBACK");
    throw error;
  }
}
