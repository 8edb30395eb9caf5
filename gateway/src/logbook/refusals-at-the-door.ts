import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";
import { countOf, type RejectionCount } from "./rejection-counts.ts";

/** The schema of refusals at the door, by version. */
export const refusalSchema: Readonly<Record<number, string>> = {
  10: "CREATE TABLE refusal (code TEXT NOT NULL, node TEXT NOT NULL, count INTEGER NOT NULL, last_at INTEGER NOT NULL, examples TEXT NOT NULL, PRIMARY KEY (code, node)) WITHOUT ROWID;",
};

/**
 * What the doors (broker, HTTP) refused never reaches the journal; its counts are kept here, so that they go on after a
 * restart.
 */
export function refusalsAtTheDoorOf(database: DatabaseSync) {
  const put = database.prepare("INSERT OR REPLACE INTO refusal VALUES (?, ?, ?, ?, ?)");
  return {
    refusalsAtTheDoor: (): readonly RejectionCount[] =>
      database.prepare("SELECT * FROM refusal ORDER BY last_at").all().map(countOf),
    keepRefusals: (counts: readonly RejectionCount[]): void =>
      inTransaction(database, () => {
        for (const { code, node, count, lastAtMs, examples } of counts)
          put.run(code, node ?? "", count, lastAtMs, JSON.stringify(examples));
      }),
  };
}
