import type { DatabaseSync } from "node:sqlite";
import type { WorkChange } from "../alarms/index.ts";
import { defineWholeRecord } from "./define-record.ts";

/** Work that began (again) or was over, whoever said so, for ever. */
export const workRecord = defineWholeRecord<WorkChange>({
  kind: "work",
  table: "work",
  key: ["id"],
  columns: {
    id: ({ subject, atMs, untilMs }) =>
      `${subject.kind}/${subject.id}@${atMs}${untilMs === null ? " over" : ""}`,
    at: ({ atMs }) => atMs,
  },
  whole: "change",
  schema: {
    9: `CREATE TABLE work (id TEXT PRIMARY KEY, at INTEGER NOT NULL, change TEXT NOT NULL);
        CREATE INDEX work_at ON work (at);`,
  },
});

/** What is asked of work. */
export function worksOf(database: DatabaseSync) {
  // A subject's name has no "@".
  const ofEach = database.prepare(
    `SELECT change FROM
      (SELECT change, at, rowid AS place,
        row_number() OVER (PARTITION BY substr(id, 1, instr(id, '@') - 1) ORDER BY at DESC, rowid DESC) AS newest
        FROM work WHERE at < ?)
     WHERE newest <= ? ORDER BY at, place`,
  );
  const between = database.prepare("SELECT change FROM work WHERE at >= ? AND at < ? ORDER BY at, rowid");
  return {
    lastWorks: (perSubject: number, beforeMs = Number.MAX_SAFE_INTEGER): readonly WorkChange[] =>
      ofEach.all(beforeMs, perSubject).map(workRecord.view),
    worksIn: (fromMs: number, toMs: number): readonly WorkChange[] =>
      between.all(fromMs, toMs).map(workRecord.view),
  };
}
