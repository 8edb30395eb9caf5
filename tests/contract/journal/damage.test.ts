import { createHash, randomBytes } from "node:crypto";
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Journal, openJournal } from "@drumlin/gateway/journal";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { afterEach, describe, expect, it } from "vitest";

const segment = "journal-000000000001.sqlite";
const entriesWritten = 6000;
/** Entries that one row of the file holds at most. */
const entriesOfRow = 512;
const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-damage-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

const open = (path: string) => openJournal({ folder: path, now: () => 1_000_000 });
/** Nothing that can be packed into less room by much: rows lie in the file one after the other. */
const textOf = (seq: number) => `pack ${seq} ${createHash("sha512").update(`${seq}`).digest("base64")}`;

async function all(journal: Journal): Promise<JournalEntry[]> {
  const entries: JournalEntry[] = [];
  for await (const batch of journal.read(1)) entries.push(...batch);
  return entries;
}

async function written(): Promise<string> {
  const path = folder();
  const journal = await open(path);
  for (let seq = 1; seq <= entriesWritten; seq += 1)
    void journal.append({ kind: "message", topic: "t", payload: new TextEncoder().encode(textOf(seq)) });
  await journal.close();
  return path;
}

/** What is there is the beginning of what was written, each payload as it was sent. */
function expectBeginning(entries: readonly JournalEntry[]): void {
  for (const [place, entry] of entries.entries()) {
    expect(entry.seq).toBe(place + 1);
    expect(entry.kind === "message" && new TextDecoder().decode(entry.payload)).toBe(textOf(entry.seq));
  }
}

describe("a damaged segment", () => {
  it.each([0.95, 0.75, 0.5, 0.25])(
    "cut at %f of its length gives back what was before the cut",
    async (share) => {
      const path = await written();
      const file = join(path, segment);
      const cut = Math.floor(statSync(file).size * share);
      truncateSync(file, cut);
      const journal = await open(path);
      const entries = await all(journal);
      expectBeginning(entries);
      // The share kept is the share saved, less the row that was cut and a few pages of 4 KiB.
      expect(entries.length).toBeGreaterThan(entriesWritten * share - entriesOfRow - 150);
      expect(entries.length).toBeLessThan(entriesWritten);
      expect(journal.setAside).toHaveLength(1);
      expect(statSync(journal.setAside[0] as string).size).toBe(cut);
      await journal.close();
    },
  );

  it.each([40, 60])("garbled in page %i loses what stood on it, and nothing after it", async (page) => {
    const path = await written();
    const file = join(path, segment);
    const bytes = readFileSync(file);
    // Pages of 4 KiB, past the schema and the root; a row stands on several, two may have part of one.
    bytes.fill(0xa5, page * 4096, (page + 1) * 4096);
    writeFileSync(file, bytes);
    let journal = await open(path);
    const entries = await all(journal);
    for (const entry of entries)
      expect(entry.kind === "message" && new TextDecoder().decode(entry.payload)).toBe(textOf(entry.seq));
    expect(entries.at(-1)?.seq).toBe(entriesWritten);
    expect(entries.length).toBeGreaterThanOrEqual(entriesWritten - 2 * entriesOfRow);
    expect(entries.length).toBeLessThan(entriesWritten);
    expect(await journal.append({ kind: "tick" })).toBe(entriesWritten + 1);
    await journal.close();
    // What was saved is not taken for damaged again.
    journal = await open(path);
    expect(journal.setAside).toEqual([]);
    expect(await all(journal)).toHaveLength(entries.length + 1);
    await journal.close();
  });

  it("copied while it was written to, its log later than itself: what is lost is told by its numbers, to the last one", async () => {
    const [lived, copy] = [folder(), folder()];
    const going = await open(lived);
    const write = async (from: number, to: number) => {
      const stored: Promise<number>[] = [];
      for (let seq = from; seq <= to; seq += 1)
        stored.push(going.append({ kind: "message", topic: "t", payload: randomBytes(5000) }));
      await Promise.all(stored);
    };
    await write(1, 500);
    copyFileSync(join(lived, segment), join(copy, segment));
    // Past 4,000 pages the log is put into the file, and begun again.
    for (let from = 501; from < 5000; from += 500) await write(from, from + 499);
    copyFileSync(join(lived, `${segment}-wal`), join(copy, `${segment}-wal`));
    await going.close();
    const faults: string[] = [];
    const journal = await openJournal({
      folder: copy,
      now: () => 1_000_000,
      onFault: (text) => faults.push(text),
    });
    const seqs = (await all(journal)).map(({ seq }) => seq);
    expect(seqs.length).toBeLessThan(journal.lastSeq);
    const told = [...faults.join().matchAll(/(\d+) to (\d+)(?=[^;]* can't be run again)/g)].reduce(
      (sum, [, from, to]) => sum + Number(to) - Number(from) + 1,
      0,
    );
    expect(told).toBe(journal.lastSeq - seqs.length);
    await journal.close();
  });

  it("never gives a number again that a checkpoint has seen, and starts again after that", async () => {
    const path = await written();
    let journal = await open(path);
    await journal.saveCheckpoint({ seq: entriesWritten, versions: {}, rows: [] });
    await journal.close();
    truncateSync(join(path, segment), Math.floor(statSync(join(path, segment)).size / 2));
    journal = await open(path);
    const saved = (await all(journal)).length;
    expect(saved).toBeLessThan(entriesWritten);
    expect(await journal.append({ kind: "tick" })).toBe(entriesWritten + 1);
    await journal.close();
    journal = await open(path);
    expect(journal.setAside).toEqual([]);
    const seqs = (await all(journal)).map(({ seq }) => seq);
    expect(seqs).toEqual([...Array.from({ length: saved }, (_, place) => place + 1), entriesWritten + 1]);
    await journal.close();
  });

  it("whose whole file is rubbish stays beside, and the journal begins anew", async () => {
    const path = await written();
    writeFileSync(join(path, segment), "no database at all, only some words".repeat(400));
    const journal = await open(path);
    expect(await all(journal)).toEqual([]);
    expect(await journal.append({ kind: "tick" })).toBe(1);
    await journal.close();
  });

  it("takes the saved file when the start before was cut off between moving one away and the other in", async () => {
    const path = await written();
    const file = join(path, segment);
    copyFileSync(file, `${file}.salvaged`);
    renameSync(file, `${file}.damaged-1`);
    const journal = await open(path);
    expect(await all(journal)).toHaveLength(entriesWritten);
    expect(existsSync(`${file}.damaged-1`)).toBe(true);
    await journal.close();
  });
});

describe("a sealed segment", () => {
  const second = `journal-${String(entriesWritten + 1).padStart(12, "0")}.sqlite`;
  const openAt = (path: string, faults: string[] = []) =>
    openJournal({
      folder: path,
      now: () => 1_000_000,
      segmentBytes: 100_000,
      onFault: (text) => faults.push(text),
    });
  /** A sealed segment of 6,000 entries and an open one of 10, with a checkpoint after both. */
  async function twoSegments(): Promise<string> {
    const path = await written();
    const journal = await openAt(path);
    for (let n = 0; n < 10; n += 1) await journal.append({ kind: "tick" });
    await journal.saveCheckpoint({ seq: entriesWritten + 10, versions: {}, rows: [] });
    await journal.close();
    expect(existsSync(join(path, second))).toBe(true);
    return path;
  }

  it("garbled in a page is saved when it is read, by name; what follows it is read too", async () => {
    const path = await twoSegments();
    const file = join(path, segment);
    const bytes = readFileSync(file);
    bytes.fill(0xa5, 40 * 4096, 41 * 4096);
    writeFileSync(file, bytes);
    const faults: string[] = [];
    const journal = await openAt(path, faults);
    expect(faults).toEqual([]);
    const entries = await all(journal);
    expect(entries.at(-1)?.seq).toBe(entriesWritten + 10);
    expect(entries.length).toBeGreaterThanOrEqual(entriesWritten - 2 * entriesOfRow);
    const seqs = new Set(entries.map(({ seq }) => seq));
    const lost = Array.from({ length: entriesWritten }, (_, place) => place + 1).filter(
      (seq) => !seqs.has(seq),
    );
    expect(faults).toEqual([
      `${segment} was damaged; what could be read was kept, it is set aside as ${segment}.damaged-1; entries ${lost[0]} to ${lost.at(-1)} can't be run again`,
    ]);
    await journal.close();
  });

  it("that is missing is told of once; put back, everything is run again", async () => {
    const path = await twoSegments();
    renameSync(join(path, segment), join(path, "elsewhere"));
    let faults: string[] = [];
    let journal = await openAt(path, faults);
    expect(faults).toEqual([`${segment} is missing: entries 1 to ${entriesWritten} can't be run again.`]);
    expect(await journal.loadCheckpoint()).not.toBeNull();
    await journal.close();
    faults = [];
    journal = await openAt(path, faults);
    expect(faults).toEqual([]);
    await journal.close();
    renameSync(join(path, "elsewhere"), join(path, segment));
    journal = await openAt(path, faults);
    expect(faults).toEqual([expect.stringMatching(/are there again; all of it is run again$/)]);
    expect(await journal.loadCheckpoint()).toBeNull();
    expect((await all(journal)).length).toBe(entriesWritten + 10);
    await journal.close();
  });

  it("let go by age is not missed", async () => {
    const path = await twoSegments();
    let nowMs = 1_000_000;
    const settings = { folder: path, now: () => nowMs, segmentBytes: 100_000, copyEveryMs: 0, keepMs: 1000 };
    let journal = await openJournal(settings);
    nowMs += 100_000;
    const seq = await journal.append({ kind: "tick" });
    for (let n = 0; n < 3; n += 1) await journal.saveCheckpoint({ seq, versions: {}, rows: [] });
    await journal.close();
    expect(existsSync(join(path, segment))).toBe(false);
    const faults: string[] = [];
    journal = await openJournal({ ...settings, onFault: (text) => faults.push(text) });
    expect(faults).toEqual([]);
    await journal.close();
  });
});
