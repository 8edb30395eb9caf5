import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const source = new URL("../../../gateway/src/", import.meta.url);
const files = readdirSync(fileURLToPath(source), { recursive: true, encoding: "utf8" })
  .map((name) => name.replaceAll("\\", "/"))
  .filter((name) => name.endsWith(".ts"));
const textOf = (name: string) => readFileSync(new URL(name, source), "utf8");

/** Every opening of a SQLite file by hand; a class of our own is one as well. */
const opened = /new DatabaseSync\((.*)\)|extends DatabaseSync\b/g;
const openingsIn = (name: string) =>
  [...textOf(name).matchAll(opened)].map(([, given]) => given ?? "a class");
const isForReading = (given: string) => given.includes("readOnly: true");

/** Who opens a file for writing by hand, and why it is no store of a room. */
const byHand: Readonly<Record<string, string>> = {
  "database/open-database.ts": "the one way",
  "database/carry-rows.ts": "a damaged file, set aside already, from which rows are carried",
  "journal/salvage.ts": "a damaged file, set aside already, from which entries are carried",
  "journal/folder-lock.ts": "the lock of the data folder: it holds nothing",
  "logbook/put-log-worker.ts": "the log of an open file is put into it, on another thread",
  "series/sqlite/schema.ts": "a store of the first schema, set aside and then only read",
};

describe("a room opens its file by `openDatabase` and by nothing else", () => {
  it("nothing else opens a file for writing", () => {
    expect(files.length).toBeGreaterThan(500);
    const opening = files.filter((name) => openingsIn(name).some((given) => !isForReading(given)));
    expect(opening.sort()).toEqual(Object.keys(byHand).sort());
  });

  it("nobody takes SQLite's own class under another name, or late", () => {
    const named = files.filter((name) =>
      /DatabaseSync as |(import|require|getBuiltinModule)\("node:sqlite"\)/.test(textOf(name)),
    );
    expect(named).toEqual([]);
  });

  it("every room with a file of its own does", () => {
    const rooms = files
      .filter((name) => !name.startsWith("database/") && /\bopen(Database|OrRenew)\(/.test(textOf(name)))
      .map((name) => name.split("/")[0]);
    expect([...new Set(rooms)].sort()).toEqual(["accounts", "app", "journal", "logbook", "series"]);
  });
});
