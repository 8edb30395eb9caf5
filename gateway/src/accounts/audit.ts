import type { DatabaseSync } from "node:sqlite";

/** Sign-ins are many and soon stale; what changed an account is kept for ever. */
const maxSignInsKept = 10_000;

/** One change of an account, or a sign-in. */
export interface AuditEntry {
  readonly place: number;
  readonly atMs: number;
  /** Who: a person, `program:NAME`, `command line`, or an address for a refused sign-in. */
  readonly by: string;
  readonly what: string;
  readonly subject: string;
  readonly before: Readonly<Record<string, unknown>> | null;
  readonly after: Readonly<Record<string, unknown>> | null;
}

const json = (value: unknown) => (value === null ? null : JSON.stringify(value));
const read = (text: unknown) => (text === null ? null : JSON.parse(text as string));

/** Changes and sign-ins, in the accounts' file. */
export function auditOf(database: DatabaseSync) {
  const insert = database.prepare(
    "INSERT INTO audit (at, by, what, subject, before, after) VALUES (?, ?, ?, ?, ?, ?)",
  );
  const page = database.prepare("SELECT * FROM audit WHERE place < ? ORDER BY place DESC LIMIT ?");
  const trim = database.prepare(
    "DELETE FROM audit WHERE what = ?1 AND place <= (SELECT place FROM audit WHERE what = ?1 ORDER BY place DESC LIMIT 1 OFFSET ?2)",
  );
  return {
    /** Adds an entry of a time, epoch ms; of sign-ins the oldest go. */
    add({ by, what, subject, before, after }: Omit<AuditEntry, "place" | "atMs">, atMs: number): void {
      insert.run(atMs, by, what, subject, json(before), json(after));
      if (what.startsWith("sign-in")) trim.run(what, maxSignInsKept);
    },
    /** Newest first; `before` is the place of the last one of the page before. */
    page: (limit: number, before = Number.MAX_SAFE_INTEGER): readonly AuditEntry[] =>
      page.all(before, limit).map((row) => ({
        place: row.place as number,
        atMs: row.at as number,
        by: row.by as string,
        what: row.what as string,
        subject: row.subject as string,
        before: read(row.before),
        after: read(row.after),
      })),
  };
}
