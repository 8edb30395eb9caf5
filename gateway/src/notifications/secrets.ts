import { randomBytes } from "node:crypto";
import { mkdirSync, readFileSync, renameSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Line } from "../line/index.ts";
import { type Giving, SecretHosts } from "./secret-hosts.ts";

const name = /^[a-z0-9][a-z0-9-]{0,79}$/;
const ofOthers = 0o077;
const maxBytes = 8192;

const own: ReadonlySet<string> = new Set(["smtp-password", "vapid-key"]);

/** Whether a secret is one that the gateway uses by itself: no template may name it. */
export const isOwnSecret = (secret: string): boolean => own.has(secret) || secret.startsWith("webhook-");

/** Why a secret can't be had; says where it belongs, never what it is. */
export class SecretError extends Error {
  constructor(message: string) {
    super(message);
    this.name = "SecretError";
  }
}

/** Passwords and keys by their names: from the environment, or from files that only their owner may read. */
export interface Secrets {
  /** Throws SecretError where there is none, or where others may read its file. */
  get(secret: string): string;
  /**
   * The secret, to be sent to `host` (`hostOfMail`, `hostOfUrl`). Throws SecretError also where it was given for another one:
   * whoever may change the line can't have it sent to a host of their own.
   */
  getFor(secret: string, host: string): string;
  /** Notes for whom secrets were given before the line changed. */
  lookAtLine(): void;
  has(secret: string): boolean;
  /** The secret; where there is none yet, a new random one is made and kept. */
  getOrMake(secret: string, make?: () => string): string;
  /** Moves the file of a secret that is of no use aside, under a name with `what`; throws when the folder does not let it. */
  setAside(secret: string, what: string): void;
}

/** `DRUMLIN_SECRET_SMTP_PASSWORD` is the secret `smtp-password`. */
const variableOf = (secret: string): string => `DRUMLIN_SECRET_${secret.toUpperCase().replaceAll("-", "_")}`;

/**
 * Secrets of a data folder: `secrets/{name}`, mode 0600, or an environment variable, which goes before. `line` is the line in
 * force, which says where they go.
 */
export function openSecrets(
  data: string,
  environment: Readonly<Record<string, string | undefined>> = {},
  line: () => Line | null = () => null,
): Secrets {
  const folder = join(data, "secrets");

  function givingOf(secret: string): Giving | null {
    if (!name.test(secret)) throw new SecretError(`"${secret.slice(0, 80)}" is no name of a secret.`);
    const given = environment[variableOf(secret)];
    if (given !== undefined && given !== "") return { value: given, atMs: null };
    const path = join(folder, secret);
    const found = statSync(path, { throwIfNoEntry: false });
    if (!found?.isFile()) return null;
    if (process.platform !== "win32" && (found.mode & ofOthers) !== 0)
      throw new SecretError(`Others may read secrets/${secret}: give it mode 0600.`);
    if (found.size > maxBytes) throw new SecretError(`secrets/${secret} is too long for a secret.`);
    // An editor ends a file with a line break; a password does not.
    return { value: readFileSync(path, "utf8").replace(/\r?\n$/, ""), atMs: found.mtimeMs };
  }
  const read = (secret: string): string | null => givingOf(secret)?.value ?? null;
  function found(secret: string): Giving {
    const giving = givingOf(secret);
    if (giving !== null && giving.value !== "") return giving;
    throw new SecretError(
      `There is no secret ${secret}: write it into secrets/${secret} in the data folder, mode 0600, or into ${variableOf(secret)}.`,
    );
  }
  const hosts = new SecretHosts(folder, {
    line,
    giving(secret) {
      try {
        return givingOf(secret);
      } catch (error) {
        if (error instanceof SecretError) return null;
        throw error;
      }
    },
  });

  return {
    get: (secret) => found(secret).value,
    getFor(secret, host) {
      hosts.look();
      const giving = found(secret);
      const givenFor = hosts.givenFor(secret, giving, host);
      if (givenFor === host) return giving.value;
      const anew =
        giving.atMs === null
          ? `give ${variableOf(secret)} another value, or remove secrets/.hosts.json`
          : `write secrets/${secret} anew`;
      throw new SecretError(
        `The secret ${secret} was given for ${givenFor}: it is not sent to ${host}. Where that is meant, ${anew}.`,
      );
    },
    lookAtLine: () => hosts.look(),
    has: (secret) => read(secret) !== null,
    setAside: (secret, what) => renameSync(join(folder, secret), join(folder, `${secret}.${what}`)),
    getOrMake(secret, make = () => randomBytes(32).toString("base64url")) {
      const found = read(secret);
      if (found !== null) return found;
      mkdirSync(folder, { recursive: true, mode: 0o700 });
      const made = make();
      writeFileSync(join(folder, secret), made, { mode: 0o600, flag: "wx" });
      return made;
    },
  };
}
