import type { DatabaseSync } from "node:sqlite";

/** What a drum's word goes by where its own state is gone. A page that is lost may have held why it is not to be used. */
const wordsGoBy = ["drum_water", "batch", "act"] as const;

/** The file's application id while it lacks some of that. */
const lostMark = 0x6c6f7374;

/** Notes in a file that has what could be read of a damaged one that what words go by is not all there. */
export function noteLostWords(database: DatabaseSync, lost: ReadonlySet<string> | "all"): void {
  if (lost === "all" || wordsGoBy.some((table) => lost.has(table)))
    database.exec(`PRAGMA application_id = ${lostMark}`);
}

/** Whether words may be worse than they stand in the logbook. */
export function lostWordsOf(database: DatabaseSync) {
  return {
    /** Some of what they go by was lost, and no state of the path was saved since. */
    areWordsLost: (): boolean =>
      (database.prepare("PRAGMA application_id").get() as { application_id: number }).application_id ===
      lostMark,
    /** A state of the path has them. */
    wordsAreKept(): void {
      database.exec("PRAGMA application_id = 0");
    },
  };
}
