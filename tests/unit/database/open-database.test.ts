import { existsSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { type DatabaseError, inTransaction, openDatabase } from "@drumlin/gateway/database";
import { afterEach, beforeEach, describe, expect, it } from "vitest";

let folder: string;
let path: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-database-"));
  path = join(folder, "book.sqlite");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const first = "CREATE TABLE page (words TEXT)";
const second = "ALTER TABLE page ADD COLUMN number INTEGER NOT NULL DEFAULT 7";

/** What another program reads in a file. */
function read(file: string, sql: string): unknown[] {
  const database = new DatabaseSync(join(folder, file), { readOnly: true });
  try {
    return database.prepare(sql).all();
  } finally {
    database.close();
  }
}

describe("a file's schema", () => {
  it("goes from version to version, each migration once", () => {
    const ran: string[] = [];
    const note = (name: string) => () => void ran.push(name);
    openDatabase(path, [first, note("second")]).close();
    openDatabase(path, [first, note("second"), note("third")]).close();
    openDatabase(path, [first, note("second"), note("third")]).close();
    expect(ran).toEqual(["second", "third"]);
    expect(read("book.sqlite", "PRAGMA user_version")).toEqual([{ user_version: 3 }]);
  });

  it("changes only after a copy of the whole file, what stood in its log with it", () => {
    const before = openDatabase(path, [first]);
    before.exec("INSERT INTO page VALUES ('as it was')");
    before.close();
    expect(readdirSync(folder)).toEqual(["book.sqlite"]);
    const after = openDatabase(path, [first, second]);
    expect(after.prepare("SELECT * FROM page").all()).toEqual([{ words: "as it was", number: 7 }]);
    after.close();
    expect(read("book-before-2.sqlite", "SELECT * FROM page")).toEqual([{ words: "as it was" }]);
    expect(read("book-before-2.sqlite", "PRAGMA user_version")).toEqual([{ user_version: 1 }]);
  });

  it("a migration that throws changes nothing, and the next opening tries again", () => {
    openDatabase(path, [first]).close();
    const broken = (database: DatabaseSync) => {
      database.exec(second);
      throw new Error("cut off");
    };
    expect(() => openDatabase(path, [first, broken])).toThrow("cut off");
    expect(read("book.sqlite", "PRAGMA user_version")).toEqual([{ user_version: 1 }]);
    expect(read("book.sqlite", "SELECT name FROM pragma_table_info('page')")).toEqual([{ name: "words" }]);
    openDatabase(path, [first, second]).close();
    expect(read("book.sqlite", "PRAGMA user_version")).toEqual([{ user_version: 2 }]);
  });

  it("of a newer version is refused by name and left as it is", () => {
    openDatabase(path, [first, second]).close();
    const bytes = statSync(path).size;
    expect(() => openDatabase(path, [first])).toThrow(
      expect.objectContaining({
        code: "database-newer" satisfies DatabaseError["code"],
        message: `${path} was written by a newer Drumlin (schema 2; this one knows 1): start that version.`,
      }),
    );
    expect(readdirSync(folder)).toEqual(["book.sqlite"]);
    expect(statSync(path).size).toBe(bytes);
  });

  it("what is no database is refused by name", () => {
    writeFileSync(path, "conductivity,temperature\n".repeat(100));
    expect(() => openDatabase(path, [first])).toThrow(
      expect.objectContaining({ code: "database-not-readable", message: expect.stringContaining(path) }),
    );
  });
});

describe("an open file", () => {
  it.skipIf(process.platform === "win32")("is its owner's alone, its log and its copies with it", () => {
    const before = process.umask(0);
    try {
      writeFileSync(path, "", { mode: 0o644 });
      const database = openDatabase(path, [first]);
      database.exec("INSERT INTO page VALUES ('a')");
      for (const name of readdirSync(folder)) expect(statSync(join(folder, name)).mode & 0o777).toBe(0o600);
      expect(readdirSync(folder)).toContain("book.sqlite-wal");
      database.close();
      openDatabase(path, [first, second]).close();
      expect(statSync(join(folder, "book-before-2.sqlite")).mode & 0o777).toBe(0o600);
    } finally {
      process.umask(before);
    }
  });

  it("writes ahead, and each transaction is on disk", () => {
    const database = openDatabase(path, [first], { pragmas: ["cache_size = -1234"] });
    expect(database.prepare("PRAGMA journal_mode").get()).toEqual({ journal_mode: "wal" });
    // 2 is FULL, https://www.sqlite.org/pragma.html#pragma_synchronous
    expect(database.prepare("PRAGMA synchronous").get()).toEqual({ synchronous: 2 });
    expect(database.prepare("PRAGMA cache_size").get()).toEqual({ cache_size: -1234 });
    database.close();
  });

  it("closing leaves one whole file, though another has it open; twice is once", () => {
    const database = openDatabase(path, [first]);
    const reader = new DatabaseSync(path, { readOnly: true });
    database.exec("INSERT INTO page VALUES ('a')");
    expect(reader.prepare("SELECT count(*) AS n FROM page").get()).toEqual({ n: 1 });
    database.close();
    database.close();
    // Without the log, the file alone still has it.
    expect(existsSync(`${path}-wal`) ? statSync(`${path}-wal`).size : 0).toBe(0);
    reader.close();
  });

  it("a transaction is all or nothing", () => {
    const database = openDatabase(path, [first]);
    expect(() =>
      inTransaction(database, () => {
        database.exec("INSERT INTO page VALUES ('half')");
        throw new Error("cut off");
      }),
    ).toThrow("cut off");
    expect(inTransaction(database, () => database.prepare("SELECT * FROM page").all())).toEqual([]);
    database.close();
  });
});
