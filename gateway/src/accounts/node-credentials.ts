import { namePattern } from "@drumlin/firmware-protocol";
import { AccountError } from "./account-error.ts";
import type { AccountsDatabase } from "./accounts-database.ts";
import {
  isRight,
  isRightSalted,
  isSalted,
  passwordCost,
  randomSecret,
  saltedHash,
  saltOf,
} from "./secrets.ts";
import type { Turns } from "./turns.ts";

const maxNodes = 5000;

/** Who may connect as a node. Names and salted hashes only: a secret is shown once, when it is made. */
export interface NodeCredentials {
  /** Adds a node, or gives it a new secret (128 random bits as text); the old one is over. Throws AccountError `name-not-usable`, `accounts-full`. */
  put(node: string, by: string): Promise<string>;
  /** Takes a node's right away. Throws AccountError `node-unknown`. */
  revoke(node: string, by: string): void;
  names(): readonly string[];
  /** True when the secret is the node's. Throws AccountError `sign-in-busy` when too many costly ones wait. */
  verify(node: string, secret: Uint8Array): Promise<boolean>;
  /** Whether `verify` costs tens of milliseconds: the first sign-in of a node whose secret an earlier version stored. */
  isCostly(node: string): boolean;
  /** Tells the node's secret in force from every other one, without telling it; null when it has none. */
  inForce(node: string): string | null;
}

/** Node credentials of an accounts file. */
export function openNodeCredentials(
  { database, change, note }: AccountsDatabase,
  turns: Turns,
  now: () => number,
): NodeCredentials {
  const one = database.prepare("SELECT hash FROM node WHERE name = ?");
  const all = database.prepare("SELECT name FROM node ORDER BY name");
  const rehash = database.prepare("UPDATE node SET hash = ? WHERE name = ? AND hash = ?");
  const storedOf = (node: string) => (one.get(node)?.hash as string | undefined) ?? null;
  const isCostly = (stored: string | null): stored is string => stored !== null && !isSalted(stored);

  return {
    async put(node, by) {
      if (!namePattern.test(node) || node === "gateway")
        throw new AccountError(
          "name-not-usable",
          `"${node.slice(0, 70)}" is no node's name: small letters, digits and hyphens, not "gateway".`,
        );
      const secret = randomSecret(16);
      change((audit) => {
        const had = one.get(node) !== undefined;
        if (!had && all.all().length >= maxNodes)
          throw new AccountError("accounts-full", `There are ${maxNodes} nodes already.`);
        database
          .prepare("INSERT OR REPLACE INTO node (name, hash, made_at) VALUES (?, ?, ?)")
          .run(node, saltedHash(Buffer.from(secret)), now());
        audit({ by, what: had ? "node-rotated" : "node-added", subject: node, before: null, after: null });
      });
      return secret;
    },
    revoke(node, by) {
      change((audit) => {
        if (!one.get(node)) throw new AccountError("node-unknown", `There is no node ${node}.`);
        database.prepare("DELETE FROM node WHERE name = ?").run(node);
        audit({ by, what: "node-revoked", subject: node, before: null, after: null });
      });
    },
    names: () => all.all().map(({ name }) => name as string),
    async verify(node, secret) {
      const stored = storedOf(node);
      if (!isCostly(stored)) return isRightSalted(secret, stored);
      const right = await turns.take(() => isRight(secret, stored, passwordCost));
      if (!right || storedOf(node) !== stored) return false;
      // The same secret under the same salt: `inForce` stays as it is, nobody has to be told, and the next time is quick.
      note(() => rehash.run(saltedHash(secret, Buffer.from(saltOf(stored), "base64")), node, stored));
      return true;
    },
    isCostly: (node) => isCostly(storedOf(node)),
    inForce(node) {
      const stored = storedOf(node);
      return stored === null ? null : saltOf(stored);
    },
  };
}
