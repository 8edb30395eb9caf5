import { randomBytes, scrypt, timingSafeEqual } from "node:crypto";
import { mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";

interface StoredSecret {
  readonly salt: string;
  readonly hash: string;
}

/** Who may connect as a node. Names and salted hashes only: a secret is shown once, when it is made. */
export interface NodeCredentials {
  /** Adds a node, or gives it a new secret: 128 random bits as text. */
  put(node: string): Promise<string>;
  /** Takes a node's right away; false when there is none. */
  revoke(node: string): boolean;
  names(): readonly string[];
  /** True when the secret is the node's. Takes the same time for a node that does not exist. */
  verify(node: string, secret: Uint8Array): Promise<boolean>;
}

// scrypt with N = 2^14, r = 8, p = 1: 16 MB and tens of milliseconds for each guess (RFC 7914).
function hashOf(secret: Uint8Array, salt: Buffer): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    scrypt(secret, salt, 32, (error, hash) => (error ? reject(error) : resolve(hash)));
  });
}

const noSalt = Buffer.alloc(16);
const noHash = Buffer.alloc(32);

/** Credentials kept in a JSON file with mode 0600, read anew when the file changes hands (`node` command beside a running gateway). */
export function openNodeCredentials(path: string): NodeCredentials {
  function read(): Record<string, StoredSecret> {
    try {
      return JSON.parse(readFileSync(path, "utf8")) as Record<string, StoredSecret>;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === "ENOENT") return {};
      throw error;
    }
  }
  function write(all: Readonly<Record<string, StoredSecret>>): void {
    mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
    writeFileSync(`${path}.new`, JSON.stringify(all, null, 2), { mode: 0o600 });
    renameSync(`${path}.new`, path);
  }
  return {
    async put(node) {
      const secret = randomBytes(16).toString("base64url");
      const salt = randomBytes(16);
      const hash = await hashOf(Buffer.from(secret), salt);
      write({ ...read(), [node]: { salt: salt.toString("base64"), hash: hash.toString("base64") } });
      return secret;
    },
    revoke(node) {
      const { [node]: gone, ...rest } = read();
      if (gone) write(rest);
      return gone !== undefined;
    },
    names: () => Object.keys(read()).sort(),
    async verify(node, secret) {
      const all = read();
      const stored = Object.hasOwn(all, node) ? all[node] : undefined;
      const hash = await hashOf(secret, stored ? Buffer.from(stored.salt, "base64") : noSalt);
      return (
        timingSafeEqual(hash, stored ? Buffer.from(stored.hash, "base64") : noHash) && stored !== undefined
      );
    },
  };
}
