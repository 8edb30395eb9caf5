import { spawn, spawnSync } from "node:child_process";
import {
  cpSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { fileURLToPath } from "node:url";
import { type Journal, type JournalOptions, openJournal } from "@drumlin/gateway/journal";
import type { JournalEntry } from "@drumlin/gateway/readings";
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-journal-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

async function all(journal: Journal): Promise<JournalEntry[]> {
  const entries: JournalEntry[] = [];
  for await (const batch of journal.read(1)) entries.push(...batch);
  return entries;
}
const message = (text: string) => ({
  kind: "message" as const,
  topic: "t",
  payload: new TextEncoder().encode(text),
});

describe("the journal", () => {
  it("gives seqs without a gap, in order, with times that never go back", async () => {
    let clock = 1000;
    const path = folder();
    const journal = await openJournal({ folder: path, now: () => clock });
    const committed: number[] = [];
    journal.onCommitted((entries) => committed.push(...entries.map(({ seq }) => seq)));
    const seqs = await Promise.all(["a", "b", "c"].map((text) => journal.append(message(text))));
    clock = 500;
    seqs.push(await journal.append({ kind: "tick" }));
    expect(seqs).toEqual([1, 2, 3, 4]);
    expect(committed).toEqual(seqs);
    expect((await all(journal)).map(({ receivedAt }) => receivedAt)).toEqual([1000, 1000, 1000, 1000]);
    await journal.close();
  });

  it("goes on after its last entry, over several segments, and with a host clock that is behind", async () => {
    const path = folder();
    let journal = await openJournal({ folder: path, now: () => 9_000_000, segmentBytes: 20_000 });
    for (let batch = 0; batch < 10; batch += 1)
      await Promise.all(
        Array.from({ length: 50 }, (_, place) => journal.append(message(`${batch}-${place}`))),
      );
    await journal.close();
    expect(readdirSync(path).filter((name) => name.endsWith(".sqlite")).length).toBeGreaterThan(1);
    journal = await openJournal({ folder: path, now: () => 5000 });
    expect(await journal.append({ kind: "tick" })).toBe(501);
    const entries = await all(journal);
    expect(entries.map(({ seq }) => seq)).toEqual(Array.from({ length: 501 }, (_, place) => place + 1));
    expect(entries.at(-1)?.receivedAt).toBeGreaterThanOrEqual(9_000_000);
    await journal.close();
  });

  it("refuses a second gateway on the same folder, by name", async () => {
    const path = folder();
    const journal = await openJournal({ folder: path, now: Date.now });
    await expect(openJournal({ folder: path, now: Date.now })).rejects.toMatchObject({
      code: "data-folder-in-use",
    });
    await journal.close();
  });

  it("refuses more than may wait, by name, and keeps what it took", async () => {
    const journal = await openJournal({ folder: folder(), now: Date.now, maxWaitingEntries: 10 });
    const results = await Promise.allSettled(Array.from({ length: 30 }, () => journal.append(message("x"))));
    expect(results.filter(({ status }) => status === "fulfilled")).toHaveLength(10);
    expect(results.flatMap((result) => (result.status === "rejected" ? [result.reason.code] : []))).toEqual(
      Array(20).fill("journal-full"),
    );
    expect(await all(journal)).toHaveLength(10);
    await journal.close();
  });

  const row = (key: string, plain: unknown) => ({ stage: "a", key, plain });
  const rowsOf = async (journal: Journal) => {
    const saved = await journal.loadCheckpoint();
    if (!saved || !("rows" in saved)) return null;
    return { seq: saved.seq, a: Object.fromEntries(saved.rows.get("a") ?? []) };
  };

  it("a checkpoint brings forward what changed; what was taken away is gone", async () => {
    const path = folder();
    const journal = await openJournal({ folder: path, now: Date.now });
    expect(await journal.loadCheckpoint()).toBeNull();
    await journal.saveCheckpoint({ seq: 1, versions: { a: 1 }, rows: [row("x", { n: 1 }), row("y", 2)] });
    await journal.saveCheckpoint({ seq: 2, versions: { a: 1 }, rows: [row("x", new Uint32Array([7]))] });
    await journal.saveCheckpoint({ seq: 3, versions: { a: 1 }, rows: [row("y", undefined)] });
    expect(await rowsOf(journal)).toEqual({ seq: 3, a: { x: new Uint32Array([7]) } });
    expect(journal.checkpointBytes).toBe(0);
    await journal.close();
  });

  it("what was held while the stores were behind is written with the next", async () => {
    const journal = await openJournal({ folder: folder(), now: Date.now });
    const first = { seq: 1, versions: { a: 1 }, rows: [row("x", 1), row("y", 1)] };
    expect(await journal.saveCheckpoint(first, Promise.resolve(false))).toBe(false);
    expect(await journal.loadCheckpoint()).toBeNull();
    for (let seq = 2; seq <= 30; seq += 1)
      await journal.saveCheckpoint(
        { seq, versions: { a: 1 }, rows: [row("x", seq)] },
        Promise.resolve(false),
      );
    await journal.saveCheckpoint({ seq: 31, versions: { a: 1 }, rows: [row("z", 3)] });
    expect(await rowsOf(journal)).toEqual({ seq: 31, a: { x: 30, y: 1, z: 3 } });
    await journal.close();
  });

  it("keeps an older generation and goes on from it when the file is damaged", async () => {
    const path = folder();
    const journal = await openJournal({ folder: path, now: Date.now, copyEveryMs: 0 });
    await journal.saveCheckpoint({ seq: 1, versions: { a: 1 }, rows: [row("x", 1)] });
    await journal.saveCheckpoint({ seq: 2, versions: { a: 1 }, rows: [row("x", 2)] });
    expect(await rowsOf(journal)).toMatchObject({ seq: 2 });
    await journal.close();
    writeFileSync(join(path, "checkpoint.state"), Buffer.alloc(5000, 1));
    const again = await openJournal({ folder: path, now: Date.now });
    expect(await rowsOf(again)).toEqual({ seq: 1, a: { x: 1 } });
    // And the next changes are written to it.
    await again.saveCheckpoint({ seq: 3, versions: { a: 1 }, rows: [row("y", 3)] });
    expect(await rowsOf(again)).toEqual({ seq: 3, a: { x: 1, y: 3 } });
    await again.close();
  });
});

function kill(path: string, afterLines: number): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [fileURLToPath(new URL("./writer.ts", import.meta.url)), path], {
      stdio: ["ignore", "pipe", "inherit"],
    });
    let text = "";
    child.stdout.on("data", (chunk: Buffer) => {
      text += chunk.toString();
      if (text.split("\n").length > afterLines) child.kill("SIGKILL");
    });
    child.on("error", reject);
    // A number that was cut while it was printed doesn't count: only whole lines do.
    child.on("close", () => resolve(Math.max(0, ...text.split("\n").slice(0, -1).map(Number))));
  });
}

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
    const cuts = fc.sample(fc.nat(size), { seed: 11, numRuns: 20 }).sort((a, b) => a - b);
    for (const cut of cuts) {
      const [ours, oracle] = [join(folder(), "data"), join(folder(), "data")];
      for (const copy of [ours, oracle]) {
        cpSync(path, copy, { recursive: true });
        rmSync(join(copy, "lock"), { force: true });
        truncateSync(join(copy, log), cut);
      }
      const database = new DatabaseSync(join(oracle, "journal-000000000001.sqlite"));
      const table = database.prepare("SELECT count(*) AS n FROM sqlite_schema WHERE name = 'entry'").get();
      const expected = table?.n ? database.prepare("SELECT count(*) AS n FROM entry").get()?.n : 0;
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

describe("what is kept", () => {
  const day = 86_400_000;
  async function days(path: string, keep: Partial<JournalOptions>) {
    const clock = { nowMs: 0 };
    const journal = await openJournal({ folder: path, now: () => clock.nowMs, ...keep });
    for (let at = 0; at < 10; at += 1) {
      clock.nowMs = at * day;
      await Promise.all(Array.from({ length: 20 }, (_, place) => journal.append(message(`${at}-${place}`))));
    }
    return journal;
  }
  const checkpoint = (seq: number) => ({ seq, versions: {}, rows: [] });
  const segmentsOf = (path: string) => readdirSync(path).filter((name) => name.endsWith(".sqlite")).length;

  it("entries older than is kept go by whole files, once two checkpoints are past them", async () => {
    const path = folder();
    const journal = await days(path, { keepMs: 3 * day, copyEveryMs: 0 });
    expect(segmentsOf(path)).toBe(10);
    await journal.saveCheckpoint(checkpoint(90));
    expect(segmentsOf(path)).toBe(10);
    await journal.saveCheckpoint(checkpoint(190));
    // The read waits behind the removal in the journal's thread.
    const entries = await all(journal);
    // The older checkpoint stands at 90, in the fifth file: the four before it may go, and are over 3 days old.
    expect(entries[0]?.seq).toBe(81);
    expect(journal.firstSeq).toBe(81);
    await journal.saveCheckpoint(checkpoint(200));
    expect((await all(journal))[0]?.seq).toBe(121);
    await journal.close();
    const again = await openJournal({ folder: path, now: () => 10 * day });
    expect([again.firstSeq, again.lastSeq]).toEqual([121, 200]);
    await again.close();
  });

  it("so do the oldest files while all together are too large", async () => {
    const path = folder();
    const journal = await days(path, { keepBytes: 40_000, copyEveryMs: 0 });
    await journal.saveCheckpoint(checkpoint(200));
    await journal.saveCheckpoint(checkpoint(200));
    const entries = await all(journal);
    expect(entries[0]?.seq).toBeGreaterThan(100);
    expect(entries.at(-1)?.seq).toBe(200);
    await journal.close();
  });
});

/** A place that is soon full: a file system of 1 MiB where that can be had, else a bound on the file. */
function smallPlace(): { readonly path: string; readonly maxPages: number; free(): void } {
  const path = folder();
  const mounted = spawnSync("mount", ["-t", "tmpfs", "-o", "size=1m", "tmpfs", path]).status === 0;
  return {
    path,
    maxPages: mounted ? 0 : 150,
    free() {
      if (mounted) spawnSync("umount", ["-l", path]);
    },
  };
}

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
