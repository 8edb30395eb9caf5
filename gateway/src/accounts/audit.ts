import type { DatabaseSync } from "node:sqlite";

/** What anybody can do again and again, and is soon stale: so many are kept. What changed an account is kept for ever. */
const maxKept: ReadonlyMap<string, number> = new Map([
  ["sign-in", 10_000],
  ["sign-in-refused", 10_000],
  ["settings-changed", 200],
  ["device-added", 1000],
  ["device-removed", 1000],
  ["node-asked", 1000],
]);

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
    /** Adds an entry of a time, epoch ms; of those that come again and again the oldest go. */
    add({ by, what, subject, before, after }: Omit<AuditEntry, "place" | "atMs">, atMs: number): void {
      insert.run(atMs, by, what, subject, json(before), json(after));
      const most = maxKept.get(what);
      if (most !== undefined) trim.run(what, most);
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
