import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openOrRenew } from "@drumlin/gateway/database";
import { openJournal } from "@drumlin/gateway/journal";
import { expect, it } from "vitest";
import { all, folder, message, smallPlace } from "./journal-bench.ts";

/** What else lies on a disk of 1 MiB, bytes: from little to so much that nothing can be begun. */
const fillers = Array.from({ length: 28 }, (_, step) => 150_000 + step * 25_000);

function garblePage(file: string, page: number): void {
  const bytes = readFileSync(file);
  bytes.fill(0xa5, page * 4096, (page + 1) * 4096);
  writeFileSync(file, bytes);
}

/**
 * Works on a damaged file while a filler takes the room, and again without it: the first may fail, but must not give less than the
 * second, nor leave it less than there is to be had.
 */
async function withFillers(
  prepare: (path: string) => Promise<void> | void,
  count: (path: string) => Promise<number>,
): Promise<readonly number[]> {
  const counts: number[] = [];
  for (const bytes of fillers) {
    const { path, free } = smallPlace();
    try {
      await prepare(path);
      try {
        writeFileSync(join(path, "filler"), Buffer.alloc(bytes));
      } catch {
        // It takes what is left.
      }
      const first = await count(path).catch(() => null);
      if (first !== null) counts.push(first);
      rmSync(join(path, "filler"));
      counts.push(await count(path));
    } finally {
      free();
    }
  }
  return counts;
}

it("a damaged segment of the journal keeps all that can be read on a disk without room for it", async () => {
  const counts = await withFillers(
    async (path) => {
      const journal = await openJournal({ folder: path, now: () => 7 });
      for (let burst = 0; burst < 40; burst += 1)
        await Promise.all(
          Array.from({ length: 20 }, (_, place) =>
            journal.append(message(`${burst} ${place} `.padEnd(200, "x"))),
          ),
        );
      await journal.close();
      garblePage(join(path, "journal-000000000001.sqlite"), 20);
    },
    async (path) => {
      const journal = await openJournal({ folder: path, now: () => 7 });
      const { length } = await all(journal).finally(() => journal.close());
      return length;
    },
  );
  // A page holds 18 of the 800.
  expect(Math.max(...counts)).toBeGreaterThan(800 - 25);
  expect(new Set(counts).size).toBe(1);
});

it("so it does with a log beside it, which has to be put into it first", async () => {
  const lived = folder();
  const write = async (from: number) => {
    const journal = await openJournal({ folder: lived, now: () => 7 });
    for (let burst = from; burst < from + 20; burst += 1)
      await Promise.all(
        Array.from({ length: 20 }, (_, place) =>
          journal.append(message(`${burst} ${place} `.padEnd(200, "x"))),
        ),
      );
    return journal;
  };
  await (await write(0)).close();
  const going = await write(20);
  const name = "journal-000000000001.sqlite";
  const files = [name, `${name}-wal`].map((one) => [one, readFileSync(join(lived, one))] as const);
  await going.close();
  const counts = await withFillers(
    (path) => {
      for (const [one, bytes] of files) writeFileSync(join(path, one), bytes);
      garblePage(join(path, name), 10);
    },
    async (path) => {
      const journal = await openJournal({ folder: path, now: () => 7 });
      const { length } = await all(journal).finally(() => journal.close());
      return length;
    },
  );
  expect(Math.max(...counts)).toBeGreaterThan(800 - 25);
  expect([...new Set(counts)]).toEqual([Math.max(...counts)]);
});

it("a damaged file that is made again keeps all rows that can be read on a disk without room for it", async () => {
  const migrations = ["CREATE TABLE act (id INTEGER PRIMARY KEY, text TEXT NOT NULL)"];
  const counts = await withFillers(
    (path) => {
      const database = new DatabaseSync(join(path, "book.sqlite"));
      database.exec(`${migrations[0]}; PRAGMA user_version = 1`);
      const insert = database.prepare("INSERT INTO act (text) VALUES (?)");
      for (let n = 0; n < 800; n += 1) insert.run(`${n} `.padEnd(200, "x"));
      database.close();
      garblePage(join(path, "book.sqlite"), 20);
    },
    async (path) => {
      const database = openOrRenew(join(path, "book.sqlite"), migrations, {
        nowMs: 7,
        beforeRenewal: () => {},
      });
      try {
        return (database.prepare("SELECT count(*) AS n FROM act").get() as { n: number }).n;
      } finally {
        database.close();
      }
    },
  );
  expect(Math.max(...counts)).toBeGreaterThan(800 - 25);
  expect(new Set(counts).size).toBe(1);
});
