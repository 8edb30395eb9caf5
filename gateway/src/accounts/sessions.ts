import { type AccountsDatabase, isNotWritten } from "./accounts-database.ts";
import { keyOf } from "./name-key.ts";
import type { Role, Who } from "./role.ts";
import { quickHash, randomSecret } from "./secrets.ts";

const dayMs = 86_400_000;
/** A session ends this long after it was last used, and this long after it began, ms. */
export const idleMs = 14 * dayMs;
/** A session ends after so long, whatever is done in it, ms. */
export const longestMs = 90 * dayMs;
/** `used_at` is written at most this often. */
const noteEveryMs = 3_600_000;
const maxOfPerson = 20;
/** Sessions that no disk took: they end with the process. The oldest goes first. */
const maxUnwritten = 100;

/** Sessions of people: 256 random bits in a cookie, their SHA-256 in the file. */
export interface Sessions {
  /**
   * A new session's secret; the person's least used one goes when there are more than 20. One that the disk does not take
   * is kept in memory: on a full disk somebody must get in to see it.
   */
  begin(person: string): string;
  /** Who it is, with the role of now; null when it is unknown, over, or its person is gone. */
  find(secret: string): Who | null;
  end(secret: string): void;
  /** Ends those of a person that no disk has taken. */
  endUnwritten(person: string): void;
}

/** Sessions of an accounts file. */
export function openSessions({ database, change, note }: AccountsDatabase, now: () => number): Sessions {
  const unwritten = new Map<string, { readonly person: string; readonly madeAtMs: number }>();
  const find = database.prepare(
    "SELECT name, role, session.made_at AS made_at, used_at FROM session JOIN person ON person.key = session.person WHERE session.hash = ? AND disabled_at IS NULL",
  );
  const used = database.prepare("UPDATE session SET used_at = ? WHERE hash = ?");
  const roleOf = database.prepare("SELECT name, role FROM person WHERE key = ? AND disabled_at IS NULL");
  const idOf = (secret: string) => Buffer.from(quickHash(secret)).toString("base64");

  function write(person: string, secret: string): void {
    change((audit) => {
      database
        .prepare("DELETE FROM session WHERE used_at < ? OR made_at < ?")
        .run(now() - idleMs, now() - longestMs);
      database
        .prepare("INSERT INTO session (hash, person, made_at, used_at) VALUES (?, ?, ?, ?)")
        .run(quickHash(secret), keyOf(person), now(), now());
      database
        .prepare(
          "DELETE FROM session WHERE person = ?1 AND hash NOT IN (SELECT hash FROM session WHERE person = ?1 ORDER BY used_at DESC, rowid DESC LIMIT ?2)",
        )
        .run(keyOf(person), maxOfPerson);
      audit({ by: person, what: "sign-in", subject: person, before: null, after: null });
    });
  }

  function findUnwritten(secret: string): Who | null {
    const session = unwritten.get(idOf(secret));
    const row = session && roleOf.get(session.person);
    if (!row || now() - session.madeAtMs > idleMs) return null;
    return { kind: "person", name: row.name as string, role: row.role as Role };
  }

  return {
    begin(person) {
      const secret = randomSecret(32);
      try {
        write(person, secret);
      } catch (error) {
        if (!isNotWritten(error)) throw error;
        unwritten.set(idOf(secret), { person: keyOf(person), madeAtMs: now() });
        if (unwritten.size > maxUnwritten) unwritten.delete(unwritten.keys().next().value as string);
      }
      return secret;
    },
    find(secret) {
      const hash = quickHash(secret);
      const row = find.get(hash);
      if (!row) return findUnwritten(secret);
      const usedMs = row.used_at as number;
      if (now() - usedMs > idleMs || now() - (row.made_at as number) > longestMs) return null;
      if (now() - usedMs > noteEveryMs) note(() => used.run(now(), hash));
      return { kind: "person", name: row.name as string, role: row.role as Role };
    },
    endUnwritten(person) {
      for (const [id, session] of unwritten) if (session.person === keyOf(person)) unwritten.delete(id);
    },
    end(secret) {
      if (unwritten.delete(idOf(secret))) return;
      change(() => database.prepare("DELETE FROM session WHERE hash = ?").run(quickHash(secret)));
    },
  };
}
