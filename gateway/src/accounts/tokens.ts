import { AccountError } from "./account-error.ts";
import type { AccountsDatabase } from "./accounts-database.ts";
import type { Role, Who } from "./role.ts";
import { quickHash, randomSecret } from "./secrets.ts";

const namePattern = /^[a-z0-9][a-z0-9-]{0,62}$/;
const maxTokens = 200;
/** Tells a token at sight, also to programs that look for secrets in published text. */
const prefix = "drumlin_";

/** A program's token as lists show it: never the secret. */
export interface Token {
  readonly name: string;
  readonly role: Role;
  readonly madeAtMs: number;
}

/** Bearer tokens of programs: 256 random bits, shown once; their SHA-256 in the file. */
export interface Tokens {
  list(): readonly Token[];
  /** The secret. Throws AccountError `name-not-usable`, `name-taken`, `accounts-full`. */
  add(name: string, role: Role, by: string): string;
  /** Throws AccountError `token-unknown`. */
  revoke(name: string, by: string): void;
  find(secret: string): Who | null;
}

/** Tokens of an accounts file. */
export function openTokens({ database, change }: AccountsDatabase, now: () => number): Tokens {
  const all = database.prepare("SELECT name, role, made_at FROM token ORDER BY name");
  const one = database.prepare("SELECT role FROM token WHERE name = ?");
  const byHash = database.prepare("SELECT name, role FROM token WHERE hash = ?");
  return {
    list: () =>
      all.all().map((row) => ({
        name: row.name as string,
        role: row.role as Role,
        madeAtMs: row.made_at as number,
      })),
    add(name, role, by) {
      if (!namePattern.test(name))
        throw new AccountError("name-not-usable", "A program's name has small letters, digits and hyphens.");
      const secret = prefix + randomSecret(32);
      change((audit) => {
        if (one.get(name)) throw new AccountError("name-taken", `There is a token ${name} already.`);
        if (all.all().length >= maxTokens)
          throw new AccountError("accounts-full", `There are ${maxTokens} tokens already.`);
        database
          .prepare("INSERT INTO token (name, hash, role, made_at) VALUES (?, ?, ?, ?)")
          .run(name, quickHash(secret), role, now());
        audit({ by, what: "token-added", subject: name, before: null, after: { role } });
      });
      return secret;
    },
    revoke(name, by) {
      change((audit) => {
        const row = one.get(name);
        if (!row) throw new AccountError("token-unknown", `There is no token ${name}.`);
        database.prepare("DELETE FROM token WHERE name = ?").run(name);
        audit({ by, what: "token-revoked", subject: name, before: { role: row.role }, after: null });
      });
    },
    find(secret) {
      const row = byHash.get(quickHash(secret));
      return row ? { kind: "program", name: row.name as string, role: row.role as Role } : null;
    },
  };
}
