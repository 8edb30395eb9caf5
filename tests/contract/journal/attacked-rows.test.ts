import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openJournal } from "@drumlin/gateway/journal";
import { describe, expect, it } from "vitest";
import { all, folder } from "./journal-bench.ts";

const segment = "journal-000000000001.sqlite";
const entriesOfRow = 512;
/** Nothing that can be packed, so that a row stands on many pages. */
const textOf = (seq: number) => `${seq} ${createHash("sha512").update(`${seq}`).digest("base64")}`;

async function write(path: string, from: number, to: number, topicOf = (_seq: number) => "t"): Promise<void> {
  const journal = await openJournal({ folder: path, now: () => 7 });
  const seqs = Array.from({ length: to - from + 1 }, (_, place) => from + place);
  await Promise.all(
    seqs.map((seq) =>
      journal.append({
        kind: "message",
        topic: topicOf(seq),
        payload: new TextEncoder().encode(textOf(seq)),
      }),
    ),
  );
  await journal.close();
}

interface Read {
  readonly seqs: readonly number[];
  readonly faults: readonly string[];
}

/** What can be read: each entry as it was sent. */
async function read(path: string, topicOf = (_seq: number) => "t"): Promise<Read> {
  const faults: string[] = [];
  const journal = await openJournal({ folder: path, now: () => 7, onFault: (text) => faults.push(text) });
  const entries = await all(journal).finally(() => journal.close());
  for (const entry of entries)
    expect([
      entry.kind,
      entry.kind === "message" && entry.topic,
      entry.kind === "message" && new TextDecoder().decode(entry.payload),
    ]).toEqual(["message", topicOf(entry.seq), textOf(entry.seq)]);
  return { seqs: entries.map(({ seq }) => seq), faults };
}

/** Numbers of [from, to]. */
const numbers = (from: number, to: number) =>
  Array.from({ length: to - from + 1 }, (_, place) => from + place);

/** Rows of a whole file: the number of the last entry of each. */
function changeRows(path: string, lastSeqs: readonly number[], assigned: string): void {
  const database = new DatabaseSync(join(path, segment));
  for (const seq of lastSeqs) {
    const { changes } = database.prepare(`UPDATE entry SET ${assigned} WHERE seq = ?`).run(seq);
    expect(changes).toBe(1);
  }
  database.close();
}

/** Pages of the table by the number of the first entry on each: leaves, which begin with 13, of 4 KiB. */
function garble(path: string, shares: readonly number[]): void {
  const file = join(path, segment);
  const bytes = readFileSync(file);
  const leaves = Array.from({ length: bytes.length / 4096 }, (_, page) => page).filter(
    (page) => page > 1 && bytes[page * 4096] === 13,
  );
  for (const share of shares) {
    const page = leaves[Math.round(share * (leaves.length - 1))] as number;
    bytes.fill(0xa5, page * 4096, (page + 1) * 4096);
  }
  writeFileSync(file, bytes);
}

describe("a row of many entries", () => {
  it("whose column changed in one bit is read whole, or lost alone and told of", async () => {
    const path = folder();
    await write(path, 1, 600);
    const whole = readFileSync(join(path, segment));
    // The columns of a row stand right before its payload; of the first one, whose payload begins so.
    const payloadAt = whole.indexOf(Buffer.from([1, 0x28, 0xb5, 0x2f, 0xfd]));
    expect(payloadAt).toBeGreaterThan(4096);
    const lost: number[] = [];
    for (let at = payloadAt - 12; at < payloadAt + 2; at += 1)
      for (const bit of [1, 8, 16, 128]) {
        const copy = folder();
        const bytes = Buffer.from(whole);
        bytes[at] = (bytes[at] as number) ^ bit;
        writeFileSync(join(copy, segment), bytes);
        const { seqs, faults } = await read(copy);
        lost.push(600 - seqs.length);
        if (seqs.length < 600) expect(faults, `byte ${at - payloadAt}, bit ${bit}`).not.toEqual([]);
      }
    expect(Math.max(...lost)).toBeLessThanOrEqual(entriesOfRow);
  });

  it.each([1, 2, 3, 4, 8, 25])("that says it is of kind %i is read all the same", async (kind) => {
    const path = folder();
    await write(path, 1, 600);
    changeRows(path, [entriesOfRow], `kind = ${kind}`);
    expect((await read(path)).seqs).toEqual(numbers(1, 600));
  });

  it("that stands under another's number is lost with it, and no other", async () => {
    const path = folder();
    await write(path, 1, 4 * entriesOfRow);
    const database = new DatabaseSync(join(path, segment));
    const bytesOf = (seq: number) =>
      database.prepare("SELECT payload FROM entry WHERE seq = ?").get(seq)?.payload as Uint8Array;
    const [second, third] = [bytesOf(2 * entriesOfRow), bytesOf(3 * entriesOfRow)];
    const put = database.prepare("UPDATE entry SET payload = ? WHERE seq = ?");
    put.run(third, 2 * entriesOfRow);
    put.run(second, 3 * entriesOfRow);
    database.close();
    const { seqs, faults } = await read(path);
    expect(seqs).toEqual([...numbers(1, entriesOfRow), ...numbers(3 * entriesOfRow + 1, 4 * entriesOfRow)]);
    expect(faults).toHaveLength(1);
  });

  it("is lost alone, however many others are damaged, and wherever they lie", async () => {
    for (const bad of [[1, 2, 4], [1], [1, 3, 5, 7], [2, 3, 4, 6, 8], [1, 2, 3, 4, 6, 8]]) {
      const path = folder();
      for (let row = 0; row < 8; row += 1)
        await write(path, row * entriesOfRow + 1, (row + 1) * entriesOfRow);
      changeRows(
        path,
        bad.map((row) => row * entriesOfRow),
        "payload = x'0102030405'",
      );
      const expected = numbers(1, 8).filter((row) => !bad.includes(row));
      expect((await read(path)).seqs, `rows ${bad}`).toEqual(
        expected.flatMap((row) => numbers((row - 1) * entriesOfRow + 1, row * entriesOfRow)),
      );
    }
  });

  it("holds no topic so long that many of them could not be read again", async () => {
    const path = folder();
    // Signs that JSON writes with six bytes each.
    const topicOf = (seq: number) => "\u0001".repeat(60_000) + seq;
    await write(path, 1, 300, topicOf);
    expect((await read(path, topicOf)).seqs).toEqual(numbers(1, 300));
  });
});

describe("single rows", () => {
  /** One entry at a time is a row of its own. */
  async function singles(count: number): Promise<string> {
    const path = folder();
    const journal = await openJournal({ folder: path, now: () => 7 });
    for (let from = 1; from <= count; from += 20)
      await Promise.all(
        numbers(from, Math.min(count, from + 19)).map((seq) =>
          journal.append({ kind: "message", topic: "t", payload: new TextEncoder().encode(textOf(seq)) }),
        ),
      );
    await journal.close();
    return path;
  }

  it.each([
    ["in the middle and at the end", [0.3, 1]],
    ["at the end", [1]],
    ["near each other", [0.2, 0.24, 0.28, 0.5]],
    ["at both ends", [0, 0.5, 0.96, 1]],
  ])("of bad pages %s are lost, and no others", async (_, shares) => {
    const path = await singles(3000);
    garble(path, shares);
    const { seqs, faults } = await read(path);
    // An entry takes some 105 bytes; the last page may be all but empty.
    expect(3000 - seqs.length).toBeGreaterThan(20 * (shares.length - 1));
    expect(3000 - seqs.length).toBeLessThanOrEqual(45 * shares.length);
    expect(faults[0]).toMatch(/was damaged; what could be read was kept/);
    expect(readdirSync(path)).toContain(`${segment}.damaged-1`);
  });
});
