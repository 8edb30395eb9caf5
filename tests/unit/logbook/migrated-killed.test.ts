// A logbook of each earlier schema is brought to the newest one: ended at each statement of it by a kill, and by a power loss.
import { copyFileSync, existsSync, mkdtempSync, readdirSync, rmSync, statSync, truncateSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync, StatementSync } from "node:sqlite";
import { openDatabase } from "@drumlin/gateway/database";
import { openLogbook } from "@drumlin/gateway/logbook";
import { afterEach, expect, it, vi } from "vitest";
import { migrations } from "../../../gateway/src/logbook/records.ts";

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-migrated-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  vi.restoreAllMocks();
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

const name = "logbook.sqlite";
const newest = migrations.length;
const rowsEach = 40;

const tablesOf = (database: DatabaseSync) =>
  database
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
    .all()
    .map(({ name: table }) => table as string);

/** A logbook of a schema, with rows in each of its tables; what it holds is JSON wherever it is text. */
function lived(version: number): string {
  const path = folder();
  const database = openDatabase(join(path, name), migrations.slice(0, version));
  for (const table of tablesOf(database).filter((one) => one !== "barrier")) {
    const columns = database.prepare("SELECT name, type FROM pragma_table_info(?)").all(table);
    const insert = database.prepare(
      `INSERT OR IGNORE INTO "${table}" (${columns.map((one) => `"${one.name}"`).join(", ")}) VALUES (${columns.map(() => "?").join(", ")})`,
    );
    for (let row = 1; row <= rowsEach; row += 1)
      insert.run(
        ...columns.map(({ type }) => (type === "TEXT" ? `{"n":${row},"of":"${"reed ".repeat(20)}"}` : row)),
      );
  }
  database.close();
  return path;
}

/** All rows of all tables of a file, but the barrier's, which counts each opening. */
function rowsIn(path: string): Readonly<Record<string, readonly unknown[]>> {
  const database = new DatabaseSync(path);
  try {
    return Object.fromEntries(
      tablesOf(database)
        .filter((table) => table !== "barrier")
        .map((table) => [table, database.prepare(`SELECT * FROM "${table}" ORDER BY 1, 2`).all()]),
    );
  } finally {
    database.close();
  }
}

function versionOf(path: string): number {
  const database = new DatabaseSync(path);
  try {
    return database.prepare("PRAGMA user_version").get()?.user_version as number;
  } finally {
    database.close();
  }
}

/** What a power loss leaves: of the log what was synced, and some of what was written since. */
function copyOf(from: string, logBytes = Number.POSITIVE_INFINITY): string {
  const copy = folder();
  for (const one of readdirSync(from))
    if (!one.endsWith("-shm")) copyFileSync(join(from, one), join(copy, one));
  const log = join(copy, `${name}-wal`);
  if (existsSync(log) && statSync(log).size > logBytes) truncateSync(log, logBytes);
  return copy;
}

/** Brings it to the newest schema, and keeps what a start would find at each statement. */
function migrate(path: string): [what: string, found: string][] {
  const found: [string, string][] = [];
  const log = join(path, `${name}-wal`);
  const sizeNow = () => (existsSync(log) ? statSync(log).size : 0);
  let [synced, statements] = [0, 0];
  const look = (sql: string) => {
    statements += 1;
    if (/^(COMMIT|PRAGMA wal_checkpoint)/.test(sql)) synced = sizeNow();
    const since = sizeNow() - synced;
    for (const share of since > 0 ? [0, 0.5] : [1])
      found.push([
        `statement ${statements} (${sql.slice(0, 40)}), ${share} of the log since`,
        copyOf(path, Math.max(0, synced) + Math.floor(since * share)),
      ]);
  };
  const { exec } = DatabaseSync.prototype;
  const { run } = StatementSync.prototype;
  vi.spyOn(DatabaseSync.prototype, "exec").mockImplementation(function (this: DatabaseSync, sql) {
    exec.call(this, sql);
    look(sql);
  });
  vi.spyOn(StatementSync.prototype, "run").mockImplementation(function (this: StatementSync, ...values) {
    look("before run");
    const done = run.apply(this, values as never);
    look("run");
    return done;
  });
  openLogbook({ folder: path }).close();
  vi.restoreAllMocks();
  return found;
}

const versions = Array.from({ length: newest - 1 }, (_, place) => place + 1);
it.each(versions)("of schema %i", (version) => {
  const begun = lived(version);
  const before = rowsIn(join(begun, name));
  const whole = copyOf(begun);
  openLogbook({ folder: whole }).close();
  const after = rowsIn(join(whole, name));
  for (const [table, rows] of Object.entries(before)) expect(after[table], table).toHaveLength(rows.length);
  const found = migrate(begun);
  expect(found.length).toBeGreaterThan(8);
  for (const [what, path] of found) {
    const copy = join(path, `logbook-before-${newest}.sqlite`);
    if (existsSync(copy) || versionOf(join(path, name)) === newest)
      expect(rowsIn(copy), `${what}, its copy`).toEqual(before);
    const told: string[] = [];
    openLogbook({ folder: path, beforeRenewal: ({ why }) => told.push(why) }).close();
    expect(told, what).toEqual([]);
    expect(rowsIn(join(path, name)), what).toEqual(after);
  }
});
