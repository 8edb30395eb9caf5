import type { FileFault } from "../database/index.ts";
import { say } from "../words/index.ts";
import { AccountError } from "./account-error.ts";
import { type AccountsDatabase, isNotWritten, openAccountsDatabase } from "./accounts-database.ts";
import type { AuditEntry } from "./audit.ts";
import { type Devices, openDevices } from "./devices.ts";
import { keyOf } from "./name-key.ts";
import { type NodeCredentials, openNodeCredentials } from "./node-credentials.ts";
import { type People, type Person, StoredPeople } from "./people.ts";
import { isSameCode, passwordCost, randomCode, type ScryptCost } from "./secrets.ts";
import { openSessions, type Sessions } from "./sessions.ts";
import { createSignInLimits, type SignInLimits } from "./sign-in-limits.ts";
import { openTokens, type Tokens } from "./tokens.ts";
import { createTurns } from "./turns.ts";

const watchEveryMs = 250;

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
  /**
   * Begins a session and gives its secret, and that of the device, by which it is known the next time. Throws AccountError
   * `sign-in-wrong`, `too-many-sign-ins`, `sign-in-busy`.
   */
  signIn(given: Credentials & { readonly device?: string | null }): Promise<SignedIn>;
  audit(limit: number, before?: number): readonly AuditEntry[];
  /** Writes down what somebody changed elsewhere (the line file); a disk that does not take it stops nothing. */
  note(entry: Omit<AuditEntry, "place" | "atMs">): void;
  /** Told after every change, also one by another process (within 0.3 s). */
  onChange(listener: () => void): void;
  /** Why the disk did not take the last change; null when it did. */
  trouble(): string | null;
  /** The accounts that this folder had are lost: nobody is let in until one is made at the terminal. */
  isLost(): boolean;
  close(): void;
}

interface SignedIn {
  readonly person: Person;
  readonly secret: string;
  readonly device: string;
}

/** Who signs in, from where. */
interface Credentials {
  readonly name: string;
  readonly password: string;
  readonly address: string;
}

/** Writes an entry that nothing else is written with; whoever acted is not stopped by a disk that does not take it. */
function noteIn(file: Pick<AccountsDatabase, "change">, entry: Omit<AuditEntry, "place" | "atMs">): void {
  try {
    file.change((audit) => audit(entry));
  } catch (error) {
    if (!isNotWritten(error)) throw error;
  }
}

const refusedSignIn = { what: "sign-in-refused", before: null, after: null } as const;

interface SigningIn {
  readonly file: AccountsDatabase;
  readonly people: People;
  readonly sessions: Sessions;
  readonly devices: Devices;
  readonly limits: SignInLimits;
}

/** The ways in: the first account by its code, and everybody by a password. */
function signingInOf({
  file,
  people,
  sessions,
  devices,
  limits,
}: SigningIn): Pick<Accounts, "newSetUpCode" | "setUp" | "signIn"> {
  let setUpCode: string | null = null;
  return {
    newSetUpCode() {
      setUpCode = randomCode();
      return setUpCode;
    },
    async setUp({ code, name, password, address }) {
      if (people.exist()) throw new AccountError("set-up-done", "The first account exists already.");
      const tried = limits.ofName("", address);
      limits.begin(tried);
      if (setUpCode === null || !isSameCode(code, setUpCode))
        throw new AccountError(
          "set-up-code-wrong",
          "The code is not the one that the gateway printed at its start.",
        );
      const person = await people.add({ name, role: "operator", password, by: "set-up code", first: true });
      setUpCode = null;
      limits.giveBack(tried);
      return person;
    },
    async signIn({ name, password, address, device = null }) {
      const isKnown = device !== null && devices.personOf(device) === keyOf(name);
      const tried = isKnown ? limits.ofDevice(device) : limits.ofName(name, address);
      limits.begin(tried);
      const person = await people.check(name, password, isKnown);
      if (!person) {
        noteIn(file, { ...refusedSignIn, by: address, subject: name.slice(0, 40) });
        throw new AccountError("sign-in-wrong", say("sign-in-wrong"));
      }
      limits.giveBack(tried);
      return {
        person,
        secret: sessions.begin(person.name),
        device: isKnown ? device : devices.begin(person.name),
      };
    },
  };
}

/** What the accounts of a data folder are opened with. */
interface AccountsOptions {
  readonly folder: string;
  /** The time of day, epoch ms. */
  readonly now: () => number;
  /** Time that only goes on, for limits: a clock that was set must not lock anybody out. */
  readonly elapsedMs?: () => number;
  /** Of new passwords; each stored hash keeps its own. */
  readonly cost?: ScryptCost;
  /** Told when the disk begins not to take a change, and (null) when it does again. */
  readonly onTrouble?: (trouble: string | null) => void;
  /** The folder is used for the first time; by default where there is no journal. */
  readonly isFirstStart?: boolean;
  /** Told what was wrong with the file. */
  readonly onFault?: (fault: FileFault) => void;
}

/** Opens the accounts of a data folder. Throws when the folder does not let it. */
export function openAccounts({
  folder,
  now,
  elapsedMs = now,
  cost = passwordCost,
  onTrouble = () => {},
  isFirstStart,
  onFault,
}: AccountsOptions): Accounts {
  let trouble: string | null = null;
  const file = openAccountsDatabase({
    folder,
    now,
    isFirstStart,
    onFault,
    onTrouble(now) {
      trouble = now;
      onTrouble(now);
    },
  });
  // At most 64 MB for passwords and 16 MB for nodes of an earlier version, and never all four threads that also serve the disk.
  const people = new StoredPeople(file, createTurns(2, 32), { now, cost });
  const nodes = openNodeCredentials(file, createTurns(1, 64), now);
  const sessions = openSessions(file, now);
  const devices = openDevices(file, now);
  const signingIn = signingInOf({ file, people, sessions, devices, limits: createSignInLimits(elapsedMs) });
  const watch = setInterval(() => {
    if (file.changedElsewhere()) file.tell();
  }, watchEveryMs);
  watch.unref();

  return {
    people,
    sessions,
    tokens: openTokens(file, now),
    nodes,
    ...signingIn,
    audit: file.audit,
    note: (entry) => noteIn(file, entry),
    onChange: file.onChange,
    trouble: () => trouble,
    isLost: file.isLost,
    close() {
      clearInterval(watch);
      file.close();
    },
  };
}
