import { createHash } from "node:crypto";
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { copyReadable } from "@drumlin/gateway/database";
import { type Journal, openJournal } from "@drumlin/gateway/journal";
import { afterAll, describe, expect, it } from "vitest";
import { failingDisks, folderOn, pageBytes, spoilPage } from "./failing-disk.ts";

const segment = "journal-000000000001.sqlite";

const onDisk = await failingDisks();
afterAll(() => onDisk[0]?.unmount());

/** Nothing that can be packed into less room by much. */
const textOf = (seq: number, bytes = 80) =>
  createHash("shake256", { outputLength: Math.ceil(bytes / 2) })
    .update(`${seq}`)
    .digest("hex");
const message = (text: string) =>
  ({ kind: "message", topic: "t", payload: new TextEncoder().encode(text) }) as const;

function open(folder: string, faults: string[] = [], segmentBytes = 2 ** 26): Promise<Journal> {
  return openJournal({ folder, now: () => 1_000_000, segmentBytes, onFault: (text) => faults.push(text) });
}

/** The numbers that are there; each payload has to be as it was sent. */
async function seqsOf(journal: Journal, bytes = 80): Promise<readonly number[]> {
  const seqs: number[] = [];
  for await (const entries of journal.read(1))
    for (const entry of entries) {
      if (entry.kind === "message")
        expect(new TextDecoder().decode(entry.payload)).toBe(textOf(entry.seq, bytes));
      seqs.push(entry.seq);
    }
  return seqs;
}

const entriesWritten = 6000;
async function write(journal: Journal, from = 1, to = entriesWritten): Promise<void> {
  const stored: Promise<number>[] = [];
  for (let seq = from; seq <= to; seq += 1) stored.push(journal.append(message(textOf(seq))));
  await Promise.all(stored);
}

it("what can be read whole is copied whole, to its last byte", () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-copied-"));
  const [from, to] = [join(folder, "from"), join(folder, "to")];
  for (const bytes of [0, 1, pageBytes, 2 ** 20, 3 * 2 ** 20 + 7]) {
    writeFileSync(from, Buffer.from(textOf(bytes, Math.max(bytes, 2))).subarray(0, bytes));
    expect(copyReadable(from, to)).toEqual([]);
    expect(readFileSync(to).equals(readFileSync(from))).toBe(true);
  }
  rmSync(folder, { recursive: true });
});

const upTo = (last: number) => Array.from({ length: last }, (_, place) => place + 1);

describe.each(onDisk)("a disk that does not give a page of the journal", (failing) => {
  it.each([
    ["first", 0],
    ["branches'", 1],
    ["row's", 40],
  ])("its %s: all other rows are kept, and it is said what is not", async (what, page) => {
    const folder = folderOn(failing);
    const written = await open(folder);
    await write(written);
    await written.close();
    await spoilPage(failing, join(folder, segment), page);
    const faults: string[] = [];
    const journal = await open(folder, faults);
    const seqs = await seqsOf(journal);
    const lost = upTo(entriesWritten).filter((seq) => !seqs.includes(seq));
    // What a page holds of a row takes that row along: 512 entries at most.
    expect(lost.length).toBe(what === "row's" ? 512 : 0);
    const entries = lost.length > 0 ? `; entries ${lost[0]} to ${lost.at(-1)} can't be run again` : "";
    expect(faults.at(-1)).toBe(
      `${segment} was damaged; what could be read was kept, it is set aside as ${segment}.damaged-1; its disk does not give bytes ${page * pageBytes} to ${(page + 1) * pageBytes - 1}${entries}`,
    );
    expect(await journal.append({ kind: "tick" })).toBe(entriesWritten + 1);
    expect(existsSync(join(folder, `${segment}.damaged-1`))).toBe(true);
    await journal.close();
  });

  it("of its last row, which is not taken for the end: no number of it is given again", async () => {
    const folder = folderOn(failing);
    const written = await open(folder);
    await write(written);
    await written.close();
    const path = join(folder, segment);
    // The last one has the row's number, the one before it what it runs over to.
    await spoilPage(failing, path, statSync(path).size / pageBytes - 2);
    const faults: string[] = [];
    const journal = await open(folder, faults);
    const seqs = await seqsOf(journal);
    expect(seqs).toEqual(upTo(seqs.length));
    expect(faults.at(-1)).toContain(`entries ${seqs.length + 1} to ${entriesWritten} can't be run again`);
    expect(await journal.append({ kind: "tick" })).toBe(entriesWritten + 1);
    await journal.close();
  });

  it("in a file that is not written to any more: found when it is read", async () => {
    const folder = folderOn(failing);
    let journal = await open(folder, [], 100_000);
    await write(journal);
    await write(journal, entriesWritten + 1, entriesWritten + 100);
    await journal.close();
    await spoilPage(failing, join(folder, segment), 30);
    const faults: string[] = [];
    journal = await open(folder, faults, 100_000);
    const seqs = await seqsOf(journal);
    expect(seqs).toHaveLength(entriesWritten + 100 - 512);
    expect(faults.join()).toContain("its disk does not give bytes 122880 to 126975; entries");
    await journal.close();
  });

  it("of a long entry of its own: it is left out, and never comes with another end", async () => {
    const folder = folderOn(failing);
    let journal = await open(folder);
    for (let seq = 1; seq <= 20; seq += 1) await journal.append(message(textOf(seq, 9000)));
    await journal.close();
    const path = join(folder, segment);
    const pages = statSync(path).size / pageBytes;
    for (let page = 0; page < pages; page += 1) {
      const copy = folderOn(failing);
      copyFileSync(path, join(copy, segment));
      await spoilPage(failing, join(copy, segment), page);
      journal = await open(copy);
      // A page with rows has what begins of some of them.
      expect((await seqsOf(journal, 9000)).length).toBeGreaterThanOrEqual(page < 2 ? 20 - 9 : 20 - 10);
      await journal.close();
    }
  });

  it("in the log beside it: what is in the file and before it in the log is kept", async () => {
    const lived = folderOn(failing);
    let journal = await open(lived);
    await write(journal, 1, 2000);
    await journal.close();
    journal = await open(lived);
    for (let seq = 2001; seq <= 2100; seq += 1) await journal.append(message(textOf(seq)));
    const folder = folderOn(failing);
    for (const name of [segment, `${segment}-wal`]) copyFileSync(join(lived, name), join(folder, name));
    await journal.close();
    const log = join(folder, `${segment}-wal`);
    await spoilPage(failing, log, Math.floor(statSync(log).size / pageBytes / 2));
    const faults: string[] = [];
    journal = await open(folder, faults);
    const seqs = await seqsOf(journal);
    expect(seqs).toEqual(upTo(seqs.length));
    expect(seqs.length).toBeGreaterThan(2030);
    expect(seqs.length).toBeLessThan(2100);
    expect(faults.join()).toContain("its disk does not give bytes");
    await journal.close();
  });
});
