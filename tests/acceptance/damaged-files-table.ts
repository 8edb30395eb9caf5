/** What can become of a file. `owner`: another user's, and closed to this one; `readable`: another user's, open to all. */
export type Damage =
  | "page"
  | "missing"
  | "empty"
  | "log-cut"
  | "read-only"
  | "owner"
  | "readable"
  | "newer"
  | "older";
/** The files that a gateway keeps, by what is in them; `sealed` and `open` are the journal's. */
export type Kept =
  | "sealed"
  | "open"
  | "logbook"
  | "series"
  | "accounts"
  | "checkpoint"
  | "copy"
  | "clock"
  | "instance"
  | "messages"
  | "key";

/** What should come out: the gateway always starts and is ready. */
export interface Outcome {
  /** What `/readyz` says beside being ready, after the part's name and the file's; null: nothing of this file. */
  readonly says: string | null;
  /** A file that stays beside it. */
  readonly beside?: string;
  /** `all`: every note and reading is there. `some`: what can't be had is gone. `closed`: nobody is let in. */
  readonly has: "all" | "some" | "closed";
}

const fine: Outcome = { says: null, has: "all" };
const time = "\\d{8}T\\d{6}Z";
const again = "it was made again from the journal$";
const closed = "nobody can sign in and no node is let in until";

const noKey: Outcome = { says: "can't be used and is set aside; a new one is made", has: "all" };
const usedAsCopy: Outcome = {
  says: "was another user's and is set aside as .*; a copy is used",
  beside: `\\.foreign-${time}$`,
  has: "all",
};
const setAsideFor = (what: string): Outcome => ({
  says: `was damaged and is set aside as .*; ${what}`,
  beside: `\\.damaged-${time}$`,
  has: "all",
});

/** A file that is gone, or of which nothing is left. */
const nothingThere: Partial<Record<Kept, Outcome>> = {
  sealed: { says: "is missing: entries 1 to \\d+ can't be run again", has: "all" },
  open: { says: "is missing: entries \\d+ to \\d+ can't be run again", has: "all" },
  logbook: { says: `was missing or empty; ${again}`, has: "all" },
  series: { says: `was missing or empty; ${again}`, has: "all" },
  accounts: { says: `was missing or empty: ${closed}`, has: "closed" },
  checkpoint: { says: "was missing or empty; the hourly copy is used", has: "all" },
  clock: { says: "was missing or empty; the calendar's steps are read from the journal", has: "all" },
  instance: { says: "was missing or empty; a new one is made", has: "all" },
  messages: { says: "was missing or empty; messages that waited", has: "all" },
};

/** File by damage. A pair that is not here does not exist: a sealed segment has no log, one line of text has no version. */
export const outcomes: Readonly<Record<Damage, Partial<Record<Kept, Outcome>>>> = {
  page: {
    // Seen when it is read: here since the clock's file, which is of the same group, is made again from the journal.
    sealed: { says: "was damaged; what could be read was kept", beside: "\\.damaged-1$", has: "all" },
    open: { says: "was damaged; what could be read was kept", beside: "\\.damaged-1$", has: "some" },
    logbook: setAsideFor(again),
    series: setAsideFor(again),
    accounts: setAsideFor("what could be read was kept"),
    checkpoint: setAsideFor("the hourly copy is used"),
    copy: { says: "was damaged; the next checkpoint makes another", has: "all" },
    clock: { says: "was damaged; the calendar's steps are read from the journal", has: "all" },
    instance: { says: "was damaged; a new one is made", has: "all" },
    messages: setAsideFor("messages that waited"),
    key: {
      says: "can't be used and is set aside; a new one is made",
      beside: `\\.damaged-${time}$`,
      has: "all",
    },
  },
  // Nobody misses the copy: a folder's first hour has none.
  missing: {
    ...nothingThere,
    copy: fine,
    key: { says: "was missing or empty; a new one is made", has: "all" },
  },
  empty: {
    ...nothingThere,
    copy: { says: "was damaged; the next checkpoint makes another", has: "all" },
    key: noKey,
  },
  // Of a gateway that was killed; the log is cut to a third, though the disk had said that it has it: what was acknowledged
  // since the last batch (10 s at most) is in no other file, and is told of by its numbers. SECURITY.md says so.
  "log-cut": {
    open: { says: "ends too early: entries \\d+ to \\d+ can't be run again", has: "some" },
    logbook: fine,
    series: fine,
    accounts: fine,
    messages: fine,
    checkpoint: fine,
  },
  // Its own file, mode 0400: opened again to its owner, and no more.
  "read-only": {
    sealed: fine,
    open: fine,
    logbook: fine,
    series: fine,
    accounts: fine,
    checkpoint: fine,
    copy: fine,
    clock: fine,
    instance: fine,
    messages: fine,
    key: fine,
  },
  owner: {
    sealed: { says: "can't be read by this user: entries 1 to \\d+ can't be run again", has: "all" },
    open: { says: "can't be read by this user: entries \\d+ to \\d+ can't be run again", has: "all" },
    logbook: {
      says: `can't be read by this user and is set aside as .*; ${again}`,
      beside: `\\.foreign-${time}$`,
      has: "all",
    },
    series: {
      says: `can't be read by this user and is set aside as .*; ${again}`,
      beside: `\\.foreign-${time}$`,
      has: "all",
    },
    accounts: {
      says: `can't be read by this user and is set aside as .*: ${closed}`,
      beside: `\\.foreign-${time}$`,
      has: "closed",
    },
    checkpoint: {
      says: "can't be read by this user and is set aside as .*; the hourly copy is used",
      beside: `\\.foreign-${time}$`,
      has: "all",
    },
    copy: { says: "can't be read by this user; the next checkpoint makes another", has: "all" },
    clock: { says: "can't be read by this user; the calendar's steps are read from the journal", has: "all" },
    instance: { says: "can't be read by this user; a new one is made", has: "all" },
    messages: { says: "can't be read by this user and is set aside as .*; messages that waited", has: "all" },
    key: noKey,
  },
  readable: {
    sealed: fine,
    open: usedAsCopy,
    logbook: usedAsCopy,
    series: usedAsCopy,
    accounts: usedAsCopy,
    checkpoint: usedAsCopy,
    copy: fine,
    clock: fine,
    instance: fine,
    messages: { says: "was another user's and is set aside as .*; a copy is used", has: "all" },
    // Mode 0644: a key that others may read is none.
    key: noKey,
  },
  newer: {
    sealed: { says: "was written by a newer Drumlin: entries 1 to \\d+ can't be run again", has: "all" },
    open: { says: "was written by a newer Drumlin: entries \\d+ to \\d+ can't be run again", has: "all" },
    logbook: {
      says: `was written by a newer Drumlin and stays as it is; .*-for-\\d+\\.sqlite is used meanwhile; ${again}`,
      has: "all",
    },
    series: {
      says: `was written by a newer Drumlin and stays as it is; .*-for-\\d+\\.sqlite is used meanwhile; ${again}`,
      has: "all",
    },
    accounts: { says: `was written by a newer Drumlin and stays as it is: ${closed}`, has: "closed" },
    checkpoint: {
      says: "was written by a newer Drumlin and is set aside as .*; the hourly copy is used",
      beside: `\\.newer-${time}$`,
      has: "all",
    },
    messages: { says: "was written by a newer Drumlin and stays as it is; messages that waited", has: "all" },
    copy: { says: "was written by a newer Drumlin; the next checkpoint makes another", has: "all" },
  },
  // A copy from the day before, put in its place.
  older: {
    open: { says: "ends too early: entries \\d+ to \\d+ can't be run again", has: "all" },
    logbook: {
      says: "ends at entry \\d+, before the checkpoint at \\d+; the journal is run again into it",
      has: "all",
    },
    series: {
      says: "ends at entry \\d+, before the checkpoint at \\d+; the journal is run again into it",
      has: "all",
    },
    accounts: fine,
    checkpoint: fine,
    messages: fine,
    clock: fine,
  },
};

const apart: readonly (readonly Kept[])[] = [
  ["sealed", "accounts", "checkpoint", "clock", "key"],
  ["logbook", "series", "instance", "copy", "messages"],
  ["open"],
];

/** Files that are damaged together: none of a group is needed to make another one of it again. */
export function groupsOf(damage: Damage): readonly (readonly Kept[])[] {
  return damage === "read-only" || damage === "readable" ? [apart.flat()] : apart;
}
