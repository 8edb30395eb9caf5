import { AccountError } from "./account-error.ts";
import type { AccountsDatabase } from "./accounts-database.ts";
import { isReserved, keyOf } from "./name-key.ts";
import type { Role } from "./role.ts";
import { isRight, type ScryptCost, slowHash } from "./secrets.ts";
import type { Turns } from "./turns.ts";
import { weaknessOf } from "./weak-passwords.ts";

/** Shortest password, letters. NIST SP 800-63B asks for at least 8, and for no rules of composition. */
export const shortestPassword = 10;
const longestPasswordBytes = 1024;
const mostPeople = 200;
const namePattern = /^[\p{L}\p{N}](?:[\p{L}\p{N} ._-]{0,38}[\p{L}\p{N}._-])?$/u;

/** A person as lists show them. */
export interface Person {
  readonly name: string;
  readonly role: Role;
  readonly madeAtMs: number;
}

/** People with passwords. Every change says who made it (`by`) and stands in the audit. */
export interface People {
  exist(): boolean;
  list(): readonly Person[];
  find(name: string): Person | null;
  /** Throws AccountError `name-not-usable`, `name-taken`, `password-not-usable`, `accounts-full`; with `first`, `set-up-done` when somebody was quicker. */
  add(given: {
    readonly name: string;
    readonly role: Role;
    readonly password: string;
    readonly by: string;
    readonly first?: boolean;
  }): Promise<Person>;
  /** Throws AccountError `person-unknown`, `last-operator`. */
  remove(name: string, by: string): void;
  /** Throws AccountError `person-unknown`, `last-operator`. */
  setRole(name: string, role: Role, by: string): void;
  /** Ends every session of theirs too. Throws AccountError `person-unknown`, `password-not-usable`. */
  setPassword(name: string, password: string, by: string): Promise<void>;
  /**
   * The person whose password it is, else null; takes the same time for a name that is nobody's. `first`: before others who
   * wait. Throws AccountError `sign-in-busy`.
   */
  check(name: string, password: string, first?: boolean): Promise<Person | null>;
}

function bytesOf(password: string): Uint8Array {
  return Buffer.from(password.normalize("NFKC"));
}

async function requireUsable(password: string, name: string): Promise<void> {
  if ([...password].length < shortestPassword || bytesOf(password).length > longestPasswordBytes)
    throw new AccountError(
      "password-not-usable",
      `A password has at least ${shortestPassword} letters and at most ${longestPasswordBytes} bytes.`,
    );
  const weakness = await weaknessOf(password, name);
  if (weakness !== null)
    throw new AccountError("password-not-usable", `${weakness} Take another: a few words are good.`);
}

/** People of an accounts file. */
export function openPeople(
  { database, change }: AccountsDatabase,
  turns: Turns,
  { now, cost }: { readonly now: () => number; readonly cost: ScryptCost },
): People {
  const anyone = database.prepare("SELECT 1 FROM person LIMIT 1");
  const all = database.prepare("SELECT name, role, made_at FROM person ORDER BY key");
  const one = database.prepare("SELECT name, role, made_at, hash FROM person WHERE key = ?");
  const insert = database.prepare(
    "INSERT INTO person (key, name, role, hash, made_at) VALUES (?, ?, ?, ?, ?)",
  );
  const operators = database.prepare("SELECT count(*) AS n FROM person WHERE role = 'operator'");

  const personOf = (row: Record<string, unknown>): Person => ({
    name: row.name as string,
    role: row.role as Role,
    madeAtMs: row.made_at as number,
  });
  function find(name: string): Person | null {
    const row = one.get(keyOf(name));
    return row ? personOf(row) : null;
  }
  function required(name: string): Person {
    const person = find(name);
    if (!person) throw new AccountError("person-unknown", `There is no ${name}.`);
    return person;
  }
  function requireAnotherOperator(person: Person): void {
    if (person.role === "operator" && Number(operators.get()?.n) < 2)
      throw new AccountError("last-operator", `${person.name} is the last operator: make another one first.`);
  }

  return {
    exist: () => anyone.get() !== undefined,
    list: () => all.all().map(personOf),
    find,
    async add({ name, role, password, by, first = false }) {
      if (!namePattern.test(name))
        throw new AccountError(
          "name-not-usable",
          "A name has 1 to 40 letters, digits, spaces, dots, hyphens or underscores.",
        );
      if (isReserved(name))
        throw new AccountError(
          "name-not-usable",
          "The gateway's own records use that name, or it is an address.",
        );
      await requireUsable(password, name);
      const hash = await turns.take(() => slowHash(bytesOf(password), cost));
      return change((audit) => {
        if (first && anyone.get()) throw new AccountError("set-up-done", "The first account exists already.");
        if (one.get(keyOf(name))) throw new AccountError("name-taken", `There is a ${name} already.`);
        if (all.all().length >= mostPeople)
          throw new AccountError("accounts-full", `There are ${mostPeople} people already.`);
        insert.run(keyOf(name), name, role, hash, now());
        audit({ by, what: "person-added", subject: name, before: null, after: { role } });
        return { name, role, madeAtMs: now() };
      });
    },
    remove(name, by) {
      change((audit) => {
        const person = required(name);
        requireAnotherOperator(person);
        database.prepare("DELETE FROM person WHERE key = ?").run(keyOf(name));
        audit({
          by,
          what: "person-removed",
          subject: person.name,
          before: { role: person.role },
          after: null,
        });
      });
    },
    setRole(name, role, by) {
      change((audit) => {
        const person = required(name);
        if (role !== "operator") requireAnotherOperator(person);
        database.prepare("UPDATE person SET role = ? WHERE key = ?").run(role, keyOf(name));
        audit({
          by,
          what: "role-changed",
          subject: person.name,
          before: { role: person.role },
          after: { role },
        });
      });
    },
    async setPassword(name, password, by) {
      await requireUsable(password, required(name).name);
      const hash = await turns.take(() => slowHash(bytesOf(password), cost));
      change((audit) => {
        const person = required(name);
        database.prepare("UPDATE person SET hash = ? WHERE key = ?").run(hash, keyOf(name));
        database.prepare("DELETE FROM session WHERE person = ?").run(keyOf(name));
        audit({ by, what: "password-changed", subject: person.name, before: null, after: null });
      });
    },
    async check(name, password, first = false) {
      const row = one.get(keyOf(name));
      const hash = row ? (row.hash as string) : null;
      const right = await turns.take(() => isRight(bytesOf(password), hash, cost), first);
      // Changed or removed meanwhile: then what was checked is no longer so.
      return right && one.get(keyOf(name))?.hash === hash ? find(name) : null;
    },
  };
}
