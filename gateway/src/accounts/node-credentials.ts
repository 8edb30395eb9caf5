import { createHmac, randomBytes, timingSafeEqual } from "node:crypto";
import { namePattern } from "@drumlin/firmware-protocol";
import { AccountError } from "./account-error.ts";
import type { AccountsDatabase } from "./accounts-database.ts";
import { isRight, nodeSecretCost, randomSecret, slowHash } from "./secrets.ts";
import type { Turns } from "./turns.ts";

const mostNodes = 5000;
/** How long a secret that was right is known again without scrypt, ms. */
const rememberedMs = 300_000;

/** Who may connect as a node. Names and salted hashes only: a secret is shown once, when it is made. */
export interface NodeCredentials {
  /** Adds a node, or gives it a new secret (128 random bits as text); the old one is over. Throws AccountError `name-not-usable`, `accounts-full`. */
  put(node: string, by: string): Promise<string>;
  /** Takes a node's right away. Throws AccountError `node-unknown`. */
  revoke(node: string, by: string): void;
  names(): readonly string[];
  /** True when the secret is the node's. Takes the same time for a node that does not exist. */
  verify(node: string, secret: Uint8Array): Promise<boolean>;
  /** Tells the node's secret in force from every other one, without telling it; null when it has none. */
  inForce(node: string): string | null;
}

/** Node credentials of an accounts file. */
export function openNodeCredentials(
  { database, change }: AccountsDatabase,
  turns: Turns,
  now: () => number,
): NodeCredentials {
  const one = database.prepare("SELECT hash FROM node WHERE name = ?");
  const all = database.prepare("SELECT name FROM node ORDER BY name");
  // Kept as a keyed hash under a key of this process: a memory dump tells no secret.
  const key = randomBytes(32);
  const remembered = new Map<
    string,
    { readonly stored: string; readonly mac: Buffer; readonly untilMs: number }
  >();
  const macOf = (secret: Uint8Array) => createHmac("sha256", key).update(secret).digest();
  const inForce = (node: string) => (one.get(node)?.hash as string | undefined) ?? null;

  return {
    async put(node, by) {
      if (!namePattern.test(node) || node === "gateway")
        throw new AccountError(
          "name-not-usable",
          `"${node.slice(0, 70)}" is no node's name: small letters, digits and hyphens, not "gateway".`,
        );
      const secret = randomSecret(16);
      const hash = await turns.take(() => slowHash(Buffer.from(secret), nodeSecretCost));
      change((audit) => {
        const had = one.get(node) !== undefined;
        if (!had && all.all().length >= mostNodes)
          throw new AccountError("accounts-full", `There are ${mostNodes} nodes already.`);
        database
          .prepare("INSERT OR REPLACE INTO node (name, hash, made_at) VALUES (?, ?, ?)")
          .run(node, hash, now());
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
      const stored = inForce(node);
      const known = remembered.get(node);
      if (
        known &&
        known.stored === stored &&
        now() < known.untilMs &&
        timingSafeEqual(known.mac, macOf(secret))
      )
        return true;
      const right = await turns.take(() => isRight(secret, stored, nodeSecretCost));
      if (!right || stored === null || inForce(node) !== stored) return false;
      // Only nodes that exist get here, so the map is bounded by their number.
      remembered.set(node, { stored, mac: macOf(secret), untilMs: now() + rememberedMs });
      return true;
    },
    inForce,
  };
}
