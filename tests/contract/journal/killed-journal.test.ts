import { cpSync, readdirSync, readFileSync, rmSync, statSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openJournal } from "@drumlin/gateway/journal";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { all, folder, kill, message, smallPlace } from "./journal-bench.ts";

describe("killed under load", { timeout: 180_000 }, () => {
  it("after each of 6 kill -9: everything acknowledged is there, nothing twice, nothing missing", async () => {
    const path = folder();
    for (const lines of [1, 50, 333, 1000, 2500, 4000]) {
      const acknowledged = await kill(path, lines);
      expect(acknowledged).toBeGreaterThan(0);
      const journal = await openJournal({ folder: path, now: Date.now });
      const seqs = (await all(journal)).map(({ seq }) => seq);
      expect(journal.lastSeq).toBeGreaterThanOrEqual(acknowledged);
      expect(seqs).toEqual(Array.from({ length: journal.lastSeq }, (_, place) => place + 1));
      await journal.close();
    }
  });

  it("a copy whose log or file is cut at random bytes starts again, without a gap, and goes on", async () => {
    const path = folder();
    await kill(path, 2000);
    const files = readdirSync(path).filter((name) => /sqlite(-wal)?$/.test(name));
    expect(files).toEqual(["journal-000000000001.sqlite", "journal-000000000001.sqlite-wal"]);
    // Fixed places, spread over each file: a seed that anyone can repeat.
    for (const [place, share] of [0.999, 0.9, 0.7, 0.5, 0.3, 0.1].entries()) {
      const copy = join(folder(), "data");
      cpSync(path, copy, { recursive: true });
      rmSync(join(copy, "lock"), { force: true });
      const name = files[place % files.length] as string;
      const size = readFileSync(join(copy, name)).length;
      truncateSync(join(copy, name), Math.floor(size * share));
      const journal = await openJournal({ folder: copy, now: Date.now });
      const next = await journal.append({ kind: "tick" });
      const seqs = (await all(journal)).map(({ seq }) => seq);
      expect(seqs).toEqual(Array.from({ length: next }, (_, at) => at + 1));
      await journal.close();
    }
  });

  it("a copy whose log is cut at 20 random bytes holds exactly what SQLite's own recovery gives", async () => {
    const path = folder();
    await kill(path, 2000);
    const log = "journal-000000000001.sqlite-wal";
    const size = statSync(join(path, log)).size;
    const counts: number[] = [];
    const cuts = fc.sample(fc.nat(size), { numRuns: 20 }).sort((a, b) => a - b);
    for (const cut of cuts) {
      const [ours, oracle] = [join(folder(), "data"), join(folder(), "data")];
      for (const copy of [ours, oracle]) {
        cpSync(path, copy, { recursive: true });
        rmSync(join(copy, "lock"), { force: true });
        truncateSync(join(copy, log), cut);
      }
      const database = new DatabaseSync(join(oracle, "journal-000000000001.sqlite"));
      const table = database.prepare("SELECT count(*) AS n FROM sqlite_schema WHERE name = 'entry'").get();
      const expected = table?.n
        ? database.prepare("SELECT coalesce(max(seq), 0) AS n FROM entry").get()?.n
        : 0;
      database.close();
      const journal = await openJournal({ folder: ours, now: Date.now });
      const seqs = (await all(journal)).map(({ seq }) => seq);
      expect(seqs, `cut at ${cut}`).toEqual(Array.from({ length: expected as number }, (_, at) => at + 1));
      counts.push(seqs.length);
      await journal.close();
    }
    // The log holds commits, each of which counts as a whole: a longer log never gives less.
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
    expect(counts.at(-1)).toBeGreaterThan(counts[0] as number);
  });
});

describe("a full disk", () => {
  it("refuses: nothing is acknowledged, what was acknowledged stays, and it goes on when there is room", async () => {
    const place = smallPlace();
    try {
      const told: (string | null)[] = [];
      const options = { folder: place.path, now: Date.now, retryMs: 20, maxPages: place.maxPages };
      const filler = join(place.path, "filler");
      if (place.maxPages === 0) writeFileSync(filler, Buffer.alloc(300_000));
      const journal = await openJournal({ ...options, onTrouble: (trouble) => told.push(trouble) });
      let acknowledged = 0;
      const troubled = new Promise<void>((resolve) => {
        const watch = setInterval(() => {
          if (journal.trouble === null) return;
          clearInterval(watch);
          resolve();
        }, 5);
      });
      let stopped = false;
      const writing = (async () => {
        for (let n = 0; n < 2000 && !stopped; n += 1) {
          await journal.append(message(`${n} ${"x".repeat(2000)}`));
          acknowledged = n + 1;
        }
      })().catch(() => {});
      await troubled;
      expect(journal.trouble).toMatch(/full|disk/i);
      const atTrouble = acknowledged;
      expect(atTrouble).toBeGreaterThan(10);
      if (place.maxPages === 0) {
        // Room again: what waited is written, and its writer answered.
        stopped = true;
        rmSync(filler);
        await writing;
        expect(acknowledged).toBe(atTrouble + 1);
        expect(journal.trouble).toBeNull();
        expect(told.at(-1)).toBeNull();
      }
      await journal.close();
      await writing;
      const again = await openJournal({ folder: place.path, now: Date.now });
      const entries = await all(again);
      expect(entries.map(({ seq }) => seq)).toEqual(Array.from({ length: acknowledged }, (_, at) => at + 1));
      await again.close();
    } finally {
      place.free();
    }
  });
});
