import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync, StatementSync } from "node:sqlite";
import { openOrRenew } from "@drumlin/gateway/database";
import { afterEach, expect, it, vi } from "vitest";

const folder = mkdtempSync(join(tmpdir(), "drumlin-carried-"));
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

it("a disk that fails on a row of the fresh file loses none of a damaged one: the start fails, the next one has all", () => {
  const path = join(folder, "book.sqlite");
  const migrations = ["CREATE TABLE act (id INTEGER PRIMARY KEY, text TEXT NOT NULL)"];
  const made = new DatabaseSync(path);
  made.exec(`${migrations[0]}; PRAGMA user_version = 1`);
  for (let n = 0; n < 50; n += 1) made.prepare("INSERT INTO act (text) VALUES (?)").run(`${n}`);
  made.close();
  let looks = 0;
  const open = () =>
    openOrRenew(path, migrations, {
      nowMs: 7,
      beforeRenewal: () => {},
      // Whatever is wrong with it: all of it can be read.
      isSound: () => {
        looks += 1;
        return looks > 2;
      },
    });
  const run = StatementSync.prototype.run;
  let rows = 0;
  vi.spyOn(StatementSync.prototype, "run").mockImplementation(function (this: StatementSync, ...values) {
    rows += 1;
    if (rows > 20) throw Object.assign(new Error("disk I/O error"), { errcode: 778 });
    return run.apply(this, values as never);
  });
  expect(open).toThrow("disk I/O error");
  vi.restoreAllMocks();
  expect(readdirSync(folder).filter((name) => name.includes("damaged"))).toEqual([]);
  const database = open();
  expect(database.prepare("SELECT count(*) AS n FROM act").get()).toEqual({ n: 50 });
  database.close();
});

// What is passed over in search of the next row that can be read is more than what is left behind the last ones.
it.each([2, 12, 17, 19, 20])(
  "a row of twenty that can't be read, number %d, takes none of those behind it along",
  (bad) => {
    const rowBytes = 3000;
    mkdirSync(folder, { recursive: true });
    const path = join(folder, "book.sqlite");
    const migrations = ["CREATE TABLE act (id INTEGER PRIMARY KEY, text TEXT NOT NULL)"];
    const made = new DatabaseSync(path);
    made.exec(`${migrations[0]}; PRAGMA user_version = 1`);
    // One row a page.
    const text = (n: number) => `row ${n} `.padEnd(rowBytes, "reed ");
    for (let n = 1; n <= 20; n += 1) made.prepare("INSERT INTO act (text) VALUES (?)").run(text(n));
    made.close();
    const bytes = readFileSync(path);
    const page = Math.floor(bytes.indexOf(text(bad)) / 4096);
    bytes.fill(0xa5, page * 4096, (page + 1) * 4096);
    writeFileSync(path, bytes);
    const database = openOrRenew(path, migrations, { nowMs: 7, beforeRenewal: () => {} });
    const ids = database
      .prepare("SELECT id FROM act ORDER BY id")
      .all()
      .map(({ id }) => Number(id));
    database.close();
    expect(ids).toEqual(Array.from({ length: 20 }, (_, at) => at + 1).filter((n) => n !== bad));
  },
);
