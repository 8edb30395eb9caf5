import { createHash, randomBytes } from "node:crypto";
import type { DatabaseSync } from "node:sqlite";
import { isSameName } from "../accounts/index.ts";

/** So long a link can be used. */
const goodForMs = 24 * 3_600_000;

/** What a link is for: one occurrence, by one person. */
export interface SeenLink {
  readonly who: string;
  readonly key: string;
  readonly occurrence: string;
}

const hashOf = (token: string): string => createHash("sha256").update(token).digest("hex");

/** Single-use links that mark an occurrence as seen. Only their hashes are kept. */
export function seenLinksOf(database: DatabaseSync) {
  const put = database.prepare("INSERT INTO link VALUES (?, ?, ?, ?, ?, NULL)");
  const find = database.prepare(
    "SELECT who, key, occurrence FROM link WHERE hash = ? AND used IS NULL AND until > ?",
  );
  const use = database.prepare("UPDATE link SET used = ? WHERE hash = ? AND used IS NULL AND until > ?");
  const release = database.prepare("UPDATE link SET used = NULL WHERE hash = ?");
  const drop = database.prepare("DELETE FROM link WHERE until <= ?");
  const found = (token: string, nowMs: number): SeenLink | null => {
    const row = find.get(hashOf(token), nowMs);
    return row
      ? { who: row.who as string, key: row.key as string, occurrence: row.occurrence as string }
      : null;
  };
  return {
    /** A new token, 256 random bits, base64url. */
    make({ who, key, occurrence }: SeenLink, nowMs: number): string {
      drop.run(nowMs);
      const token = randomBytes(32).toString("base64url");
      put.run(hashOf(token), who, key, occurrence, nowMs + goodForMs);
      return token;
    },
    /** What a token is for; null where it is none, was used, has run out, or was sent to somebody else. */
    find(token: string, who: string, nowMs: number): SeenLink | null {
      const link = found(token, nowMs);
      return link && isSameName(link.who, who) ? link : null;
    },
    /** Uses a token up; false where somebody did before. */
    use: (token: string, nowMs: number): boolean => use.run(nowMs, hashOf(token), nowMs).changes === 1,
    /** What it was used for was not taken: it can be used again. */
    release: (token: string): void => void release.run(hashOf(token)),
  };
}

/** Links in messages by which somebody says that an alarm was seen. */
export type SeenLinks = ReturnType<typeof seenLinksOf>;
