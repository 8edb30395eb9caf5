import { AccountError } from "./account-error.ts";
import { type AuditEntry, openAccountsDatabase } from "./accounts-database.ts";
import { createAttempts } from "./attempts.ts";
import { type NodeCredentials, openNodeCredentials } from "./node-credentials.ts";
import { keyOf, openPeople, type People, type Person } from "./people.ts";
import { isSameCode, randomCode } from "./secrets.ts";
import { openSessions, type Sessions } from "./sessions.ts";
import { openTokens, type Tokens } from "./tokens.ts";
import { createTurns } from "./turns.ts";

const watchEveryMs = 250;
const windowMs = 15 * 60_000;
/** Tries of one name from one address, and of one address, in 15 min. */
const mostOfNameFromAddress = 5;
const mostOfAddress = 30;
/** Tries of one name from everywhere in a day; NIST SP 800-63B §5.2.2 allows 100 in a row. */
const mostOfName = 100;
const dayMs = 86_400_000;
const mostOrigins = 10_000;

/** People, programs and nodes of a data folder, with rate limits and an audit. */
export interface Accounts {
  readonly people: People;
  readonly sessions: Sessions;
  readonly tokens: Tokens;
  readonly nodes: NodeCredentials;
  /** Makes the code with which the first account can be made; the one before is over. */
  newSetUpCode(): string;
  /** Makes the first account, an operator. Throws AccountError `set-up-done`, `set-up-code-wrong`, `too-many-sign-ins`, and those of People.add. */
  setUp(given: Credentials & { readonly code: string }): Promise<Person>;
  /** Begins a session and gives its secret. Throws AccountError `sign-in-wrong`, `too-many-sign-ins`, `sign-in-busy`. */
  signIn(given: Credentials): Promise<{ readonly person: Person; readonly secret: string }>;
  audit(limit: number, before?: number): readonly AuditEntry[];
  /** Told after every change, also one by another process (within 0.3 s). */
  onChange(listener: () => void): void;
  close(): void;
}

/** Who signs in, from where. */
interface Credentials {
  readonly name: string;
  readonly password: string;
  readonly address: string;
}

/** One house has one IPv6 network: what counts is its /64 (RFC 6177 gives a site at least that). */
function originOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.)/, "");
  if (!plain.includes(":")) return plain;
  const [head = "", tail] = plain.split("::");
  const groups = head.split(":");
  const rest = tail === undefined ? [] : tail.split(":");
  const whole =
    tail === undefined ? groups : [...groups, ...Array(8 - groups.length - rest.length).fill("0"), ...rest];
  return whole.slice(0, 4).join(":");
}

/** Opens the accounts of a data folder. Throws when a newer version wrote them. */
export function openAccounts({
  folder,
  now,
  elapsedMs = now,
}: {
  readonly folder: string;
  /** The time of day, epoch ms. */
  readonly now: () => number;
  /** Time that only goes on, for limits: a clock that was set must not lock anybody out. */
  readonly elapsedMs?: () => number;
}): Accounts {
  const file = openAccountsDatabase(folder, now);
  // At most 64 MB for passwords and 32 MB for nodes, and half of the four threads that also serve the disk.
  const people = openPeople(file, createTurns(2, 32), now);
  const nodes = openNodeCredentials(file, createTurns(2, 6000), now);
  const sessions = openSessions(file, now);
  const attempts = createAttempts(mostOrigins);
  let setUpCode: string | null = null;

  const watch = setInterval(() => {
    if (file.changedElsewhere()) file.tell();
  }, watchEveryMs);
  watch.unref();

  const fromAddress = (address: string) => `from ${originOf(address)}`;
  const nameFromAddress = (name: string, address: string) => `${keyOf(name)} ${fromAddress(address)}`;
  /** Noted before the check, so that many at once count too. Throws `too-many-sign-ins`. */
  function beginAttempt(name: string, address: string): void {
    const waitMs = attempts.begin(
      [
        { key: nameFromAddress(name, address), most: mostOfNameFromAddress, withinMs: windowMs },
        { key: fromAddress(address), most: mostOfAddress, withinMs: windowMs },
        { key: keyOf(name), most: mostOfName, withinMs: dayMs },
      ],
      elapsedMs(),
    );
    if (waitMs === 0) return;
    const waitS = Math.ceil(waitMs / 1000);
    throw new AccountError("too-many-sign-ins", `Too many tries: wait ${Math.ceil(waitS / 60)} min.`, waitS);
  }
  function wentWell(name: string, address: string): void {
    attempts.forget(nameFromAddress(name, address));
    attempts.forget(keyOf(name));
  }

  return {
    people,
    sessions,
    tokens: openTokens(file, now),
    nodes,
    newSetUpCode() {
      setUpCode = randomCode();
      return setUpCode;
    },
    async setUp({ code, name, password, address }) {
      if (people.exist()) throw new AccountError("set-up-done", "The first account exists already.");
      beginAttempt("", address);
      if (setUpCode === null || !isSameCode(code, setUpCode))
        throw new AccountError(
          "set-up-code-wrong",
          "The code is not the one that the gateway printed at its start.",
        );
      const person = await people.add({ name, role: "operator", password, by: "set-up code", first: true });
      setUpCode = null;
      wentWell("", address);
      return person;
    },
    async signIn({ name, password, address }) {
      beginAttempt(name, address);
      const person = await people.check(name, password);
      if (!person) {
        file.change((audit) =>
          audit({
            by: address,
            what: "sign-in-refused",
            subject: name.slice(0, 40),
            before: null,
            after: null,
          }),
        );
        throw new AccountError("sign-in-wrong", "The name or the password is wrong.");
      }
      wentWell(name, address);
      return { person, secret: sessions.begin(person.name) };
    },
    audit: file.audit,
    onChange: file.onChange,
    close() {
      clearInterval(watch);
      file.close();
    },
  };
}
