import { createHash, randomBytes, randomInt, scrypt, timingSafeEqual } from "node:crypto";

/** Cost of scrypt (RFC 7914): memory is 128 × 2^log2N × r bytes. */
export interface ScryptCost {
  readonly log2N: number;
  readonly r: number;
  readonly p: number;
}

/** For passwords: 32 MB, three passes; among the settings of OWASP's password storage cheat sheet (from memory). */
export const passwordCost: ScryptCost = { log2N: 15, r: 8, p: 3 };
const hashBytes = 32;

function derive(secret: Uint8Array, salt: Uint8Array, { log2N, r, p }: ScryptCost): Promise<Buffer> {
  const options = { N: 2 ** log2N, r, p, maxmem: 256 * 2 ** log2N * r };
  return new Promise((resolve, reject) => {
    scrypt(secret, salt, hashBytes, options, (error, hash) => (error ? reject(error) : resolve(hash)));
  });
}

/** Salted scrypt hash as text: `scrypt$log2N$r$p$salt$hash`. The cost stands in it, so that it can be raised later. */
export async function slowHash(secret: Uint8Array, cost: ScryptCost): Promise<string> {
  const salt = randomBytes(16);
  const hash = await derive(secret, salt, cost);
  return ["scrypt", cost.log2N, cost.r, cost.p, salt.toString("base64"), hash.toString("base64")].join("$");
}

/** Whether the secret made the hash; null is nobody's hash: never right, and takes as long as `cost` takes. */
export async function isRight(secret: Uint8Array, stored: string | null, cost: ScryptCost): Promise<boolean> {
  const [, log2N, r, p, salt, hash] = stored?.split("$") ?? [];
  const known = { log2N: Number(log2N), r: Number(r), p: Number(p) };
  const made = await derive(secret, Buffer.from(salt ?? "", "base64"), stored === null ? cost : known);
  const wanted = stored === null ? Buffer.alloc(hashBytes) : Buffer.from(hash ?? "", "base64");
  return timingSafeEqual(made, wanted) && stored !== null;
}

/** SHA-256: enough for a secret of 256 random bits, and quick enough for each request. */
export function quickHash(secret: string): Uint8Array {
  return createHash("sha256").update(secret).digest();
}

/** What a text of `saltedHash` begins with. */
const saltedKind = "sha256";

/**
 * Salted SHA-256 as text, `sha256$salt$hash`, for secrets of at least 112 random bits: nobody guesses those, so a slow hash
 * would only be a way to keep the gateway busy (OWASP ASVS 5.0.0, V6.5.2: a standard hash will do from 112 bits on).
 */
export function saltedHash(secret: Uint8Array, salt: Uint8Array = randomBytes(16)): string {
  const hash = createHash("sha256").update(salt).update(secret).digest();
  return [saltedKind, Buffer.from(salt).toString("base64"), hash.toString("base64")].join("$");
}

/** Whether a stored text is one of `saltedHash`. */
export function isSalted(stored: string): boolean {
  return stored.startsWith(`${saltedKind}$`);
}

/** The salt of a stored hash of either kind, as text: the same for one secret, different for every other. */
export function saltOf(stored: string): string {
  return stored.split("$").at(-2) ?? "";
}

/** Whether the secret made the salted hash; null is nobody's. Takes microseconds, the same for right, wrong and nobody's. */
export function isRightSalted(secret: Uint8Array, stored: string | null): boolean {
  const made = saltedHash(secret, Buffer.from(stored === null ? "" : saltOf(stored), "base64"));
  return timingSafeEqual(quickHash(made), quickHash(stored ?? "")) && stored !== null;
}

/** `bytes` random bytes as text that fits a header, a cookie and a sketch. */
export function randomSecret(bytes: number): string {
  return randomBytes(bytes).toString("base64url");
}

// Without I, O, 0 and 1: it is read off a terminal and typed on a phone.
const codeLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";

/** A code of 80 random bits in four groups of four. */
export function randomCode(): string {
  const letters = Array.from({ length: 16 }, () => codeLetters[randomInt(codeLetters.length)]).join("");
  return letters.replace(/(.{4})(?=.)/g, "$1-");
}

/** Whether a typed code is the wanted one: small letters, spaces and hyphens don't matter. */
export function isSameCode(typed: string, wanted: string): boolean {
  const plain = (code: string) => code.toUpperCase().replace(/[^A-Z0-9]/g, "");
  return timingSafeEqual(quickHash(plain(typed)), quickHash(plain(wanted)));
}
