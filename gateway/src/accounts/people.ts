import { say } from "../words/index.ts";
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
const maxPeople = 200;
const namePattern = /^[\p{L}\p{N}](?:[\p{L}\p{N} ._-]{0,38}[\p{L}\p{N}._-])?$/u;

/** A person as lists show them. */
export interface Person {
  readonly name: string;
  readonly role: Role;
  readonly madeAtMs: number;
  /** Kept, but may not sign in. */
  readonly isDisabled: boolean;
}

/** What a person chose of pages, by name; which there are is the pages' own matter. */
export type PersonSettings = Readonly<Record<string, string>>;

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
  /** Lets somebody sign in no more, or again; ends every session of theirs. Throws AccountError `person-unknown`, `last-operator`. */
  setDisabled(name: string, isDisabled: boolean, by: string): void;
  /** How they want pages to speak and count; null where they never chose. */
  settings(name: string): PersonSettings | null;
  /** Throws AccountError `person-unknown`. */
  setSettings(name: string, settings: PersonSettings, by: string): void;
  /** Ends every session of theirs. Throws AccountError `person-unknown`. */
  endSessions(name: string, by: string): void;
  /** Ends every session of theirs too. Throws AccountError `person-unknown`, `password-not-usable`. */
  setPassword(name: string, password: string, by: string): Promise<void>;
  /**
   * The person whose password it is and who may sign in, else null; takes the same time for a name that is nobody's. `first`: before others who
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

type Statement = ReturnType<AccountsDatabase["database"]["prepare"]>;

const personOf = (row: Record<string, unknown>): Person => ({
  name: row.name as string,
  role: row.role as Role,
  madeAtMs: row.made_at as number,
  isDisabled: row.disabled_at !== null,
});

function requireUsableName(name: string): void {
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
}

interface PeopleOptions {
  readonly now: () => number;
  readonly cost: ScryptCost;
}

/** People of an accounts file. */
export class StoredPeople implements People {
  private readonly accounts: AccountsDatabase;
  private readonly turns: Turns;
  private readonly options: PeopleOptions;
  private readonly anyone: Statement;
  private readonly all: Statement;
  private readonly one: Statement;
  private readonly operators: Statement;
  private readonly chosen: Statement;

  constructor(accounts: AccountsDatabase, turns: Turns, options: PeopleOptions) {
    const { database } = accounts;
    this.accounts = accounts;
    this.turns = turns;
    this.options = options;
    this.anyone = database.prepare("SELECT 1 FROM person LIMIT 1");
    this.all = database.prepare("SELECT name, role, made_at, disabled_at FROM person ORDER BY key");
    this.one = database.prepare("SELECT name, role, made_at, disabled_at, hash FROM person WHERE key = ?");
    this.chosen = database.prepare("SELECT settings FROM person WHERE key = ?");
    this.operators = database.prepare(
      "SELECT count(*) AS n FROM person WHERE role = 'operator' AND disabled_at IS NULL",
    );
  }

  exist(): boolean {
    return this.anyone.get() !== undefined || this.accounts.isLost();
  }

  list(): readonly Person[] {
    return this.all.all().map(personOf);
  }

  find(name: string): Person | null {
    const row = this.one.get(keyOf(name));
    return row ? personOf(row) : null;
  }

  async add({ name, role, password, by, first = false }: Parameters<People["add"]>[0]): Promise<Person> {
    const { now, cost } = this.options;
    requireUsableName(name);
    await requireUsable(password, name);
    const hash = await this.turns.take(() => slowHash(bytesOf(password), cost));
    return this.accounts.change((audit) => {
      if (first && this.exist()) throw new AccountError("set-up-done", "The first account exists already.");
      if (this.one.get(keyOf(name))) throw new AccountError("name-taken", say("name-taken", { name }));
      if (this.all.all().length >= maxPeople)
        throw new AccountError("accounts-full", `There are ${maxPeople} people already.`);
      this.accounts.database
        .prepare("INSERT INTO person (key, name, role, hash, made_at) VALUES (?, ?, ?, ?, ?)")
        .run(keyOf(name), name, role, hash, now());
      audit({ by, what: "person-added", subject: name, before: null, after: { role } });
      return { name, role, madeAtMs: now(), isDisabled: false };
    });
  }

  remove(name: string, by: string): void {
    this.accounts.change((audit) => {
      const person = this.required(name);
      this.requireAnotherOperator(person);
      this.accounts.database.prepare("DELETE FROM person WHERE key = ?").run(keyOf(name));
      const before = { role: person.role };
      audit({ by, what: "person-removed", subject: person.name, before, after: null });
    });
  }

  setRole(name: string, role: Role, by: string): void {
    this.accounts.change((audit) => {
      const person = this.required(name);
      if (role !== "operator") this.requireAnotherOperator(person);
      this.accounts.database.prepare("UPDATE person SET role = ? WHERE key = ?").run(role, keyOf(name));
      const before = { role: person.role };
      audit({ by, what: "role-changed", subject: person.name, before, after: { role } });
    });
  }

  setDisabled(name: string, isDisabled: boolean, by: string): void {
    const { database, change } = this.accounts;
    change((audit) => {
      const person = this.required(name);
      if (isDisabled) this.requireAnotherOperator(person);
      const at = isDisabled ? this.options.now() : null;
      database.prepare("UPDATE person SET disabled_at = ? WHERE key = ?").run(at, keyOf(name));
      database.prepare("DELETE FROM session WHERE person = ?").run(keyOf(name));
      const what = isDisabled ? "person-disabled" : "person-enabled";
      audit({ by, what, subject: person.name, before: null, after: null });
    });
  }

  settings(name: string): PersonSettings | null {
    const text = this.chosen.get(keyOf(name))?.settings;
    return typeof text === "string" ? (JSON.parse(text) as PersonSettings) : null;
  }

  setSettings(name: string, settings: PersonSettings, by: string): void {
    const { database, change } = this.accounts;
    const text = JSON.stringify(settings);
    if (this.chosen.get(keyOf(name))?.settings === text) return;
    change((audit) => {
      const person = this.required(name);
      const before = this.settings(name);
      database.prepare("UPDATE person SET settings = ? WHERE key = ?").run(text, keyOf(name));
      audit({ by, what: "settings-changed", subject: person.name, before, after: settings });
    });
  }

  endSessions(name: string, by: string): void {
    const { database, change } = this.accounts;
    change((audit) => {
      const person = this.required(name);
      database.prepare("DELETE FROM session WHERE person = ?").run(keyOf(name));
      audit({ by, what: "sessions-ended", subject: person.name, before: null, after: null });
    });
  }

  async setPassword(name: string, password: string, by: string): Promise<void> {
    const { database, change } = this.accounts;
    await requireUsable(password, this.required(name).name);
    const hash = await this.turns.take(() => slowHash(bytesOf(password), this.options.cost));
    change((audit) => {
      const person = this.required(name);
      database.prepare("UPDATE person SET hash = ? WHERE key = ?").run(hash, keyOf(name));
      database.prepare("DELETE FROM session WHERE person = ?").run(keyOf(name));
      audit({ by, what: "password-changed", subject: person.name, before: null, after: null });
    });
  }

  async check(name: string, password: string, first = false): Promise<Person | null> {
    const row = this.one.get(keyOf(name));
    const hash = row ? (row.hash as string) : null;
    const right = await this.turns.take(() => isRight(bytesOf(password), hash, this.options.cost), first);
    // Changed or removed meanwhile: then what was checked is no longer so.
    const person = right && this.one.get(keyOf(name))?.hash === hash ? this.find(name) : null;
    return person?.isDisabled ? null : person;
  }

  private required(name: string): Person {
    const person = this.find(name);
    if (!person) throw new AccountError("person-unknown", `There is no ${name}.`);
    return person;
  }

  private requireAnotherOperator(person: Person): void {
    if (person.role === "operator" && !person.isDisabled && Number(this.operators.get()?.n) < 2)
      throw new AccountError("last-operator", say("last-operator", { name: person.name }));
  }
}
