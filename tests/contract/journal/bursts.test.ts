import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { type NewEntry, openJournal } from "@drumlin/gateway/journal";
import type { JournalEntry } from "@drumlin/gateway/readings";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { all, folder } from "./journal-bench.ts";

const segment = "journal-000000000001.sqlite";

/** Bytes that follow from their number and can't be packed. */
function bytesOf(length: number, number: number): Uint8Array {
  const bytes = new Uint8Array(length);
  for (let at = 0; at < length; at += 64)
    bytes.set(
      createHash("sha512")
        .update(`${number} ${at}`)
        .digest()
        .subarray(0, length - at),
      at,
    );
  return bytes;
}

const entry = fc.oneof(
  { weight: 150, arbitrary: fc.record({ topic: fc.integer({ min: 0, max: 3 }), length: fc.nat(300) }) },
  { weight: 1, arbitrary: fc.record({ topic: fc.nat(900), length: fc.nat(9000) }) },
  { weight: 1, arbitrary: fc.constantFrom<NewEntry>({ kind: "tick" }, { kind: "stop" }) },
  {
    weight: 1,
    arbitrary: fc.constantFrom<NewEntry>(
      { kind: "line", yaml: "site: æøå\n" },
      { kind: "world", part: "disk", fact: "free-percent", value: 12 },
    ),
  },
);

/** Entries as they are given, each of which goes or comes with its own time. */
function given(drawn: readonly (NewEntry | { topic: number; length: number })[], stepMs: number) {
  return drawn.map((one, place) => ({
    receivedAt: 1_000_000 + place * stepMs,
    entry:
      "kind" in one ? one : { kind: "message", topic: `t/${one.topic}`, payload: bytesOf(one.length, place) },
  })) as { receivedAt: number; entry: NewEntry }[];
}

/** A plain form that compares payloads by what is in them. */
const plain = (entries: readonly (JournalEntry | Record<string, unknown>)[]) =>
  entries.map((one) =>
    "payload" in one ? { ...one, payload: Buffer.from(one.payload as Uint8Array).toString("base64") } : one,
  );

async function writeAtOnce(path: string, entries: ReturnType<typeof given>): Promise<void> {
  const journal = await openJournal({ folder: path, now: () => 0 });
  await Promise.all(entries.map(({ entry: one, receivedAt }) => journal.append(one, receivedAt)));
  await journal.close();
}

describe("bursts of entries", () => {
  it("any entries that came at once are read as they came, from any of them on", {
    timeout: 240_000,
  }, async () => {
    const property = fc.asyncProperty(
      fc.array(entry, { minLength: 1, maxLength: 1500, size: "max" }),
      fc.constantFrom(0, 1, 997, 86_400_000),
      async (drawn, stepMs) => {
        const entries = given(drawn, stepMs);
        const path = folder();
        await writeAtOnce(path, entries);
        const expected = plain(
          entries.map(({ entry: one, receivedAt }, place) => ({ seq: place + 1, receivedAt, ...one })),
        );
        const journal = await openJournal({ folder: path, now: () => 0 });
        expect(journal.lastSeq).toBe(expected.length);
        expect(plain(await all(journal))).toEqual(expected);
        // Some of them lie within a row.
        for (const share of [0.03, 0.2, 0.37, 0.61, 0.98]) {
          const fromSeq = 1 + Math.floor(share * expected.length);
          const rest: JournalEntry[] = [];
          for await (const some of journal.read(fromSeq)) rest.push(...some);
          expect(plain(rest)).toEqual(expected.slice(fromSeq - 1));
        }
        await journal.close();
      },
    );
    await fc.assert(property, { numRuns: 12, seed: 11 });
  });

  it("packs that differ in a few digits take less than a third of their room", async () => {
    const path = folder();
    let cameBytes = 0;
    const entries = Array.from({ length: 2000 }, (_, seq) => {
      const text = JSON.stringify([
        { boot: 1, seq, n: "t-1", u: "Cel", v: 18 + (seq % 7) / 10, t: 1_790_000_000 + seq * 5 },
        { n: "ec-1", u: "S/m", v: 0.0412 + (seq % 13) / 1e5, t: 1_790_000_000 + seq * 5 },
      ]);
      cameBytes += text.length;
      return {
        receivedAt: seq,
        entry: { kind: "message", topic: "t", payload: new TextEncoder().encode(text) } as NewEntry,
      };
    });
    await writeAtOnce(path, entries);
    expect(statSync(join(path, segment)).size).toBeLessThan(cameBytes / 3);
  });

  it("a byte that changed anywhere in them never gives an entry that nobody sent, and the next start is sound", async () => {
    const path = folder();
    const entries = given(
      Array.from({ length: 1200 }, (_, place) => ({ topic: place % 2, length: 150 })),
      10,
    );
    await writeAtOnce(path, entries);
    const sent = plain(
      entries.map(({ entry: one, receivedAt }, place) => ({ seq: place + 1, receivedAt, ...one })),
    ) as { seq: number }[];
    const whole = readFileSync(join(path, segment));
    const lost: number[] = [];
    // Past the first two pages, which say what the file is.
    for (let at = 2 * 4096 + 11; at < whole.length; at += Math.floor(whole.length / 25)) {
      const copy = folder();
      const bytes = Buffer.from(whole);
      bytes[at] = (bytes[at] as number) ^ 0x10;
      writeFileSync(join(copy, segment), bytes);
      let journal = await openJournal({ folder: copy, now: () => 0 });
      const read = plain(await all(journal)) as { seq: number }[];
      expect(read, `byte ${at}`).toEqual(sent.filter(({ seq }) => read.some((one) => one.seq === seq)));
      lost.push(sent.length - read.length);
      const next = await journal.append({ kind: "tick" });
      expect(next).toBeGreaterThan(read.at(-1)?.seq ?? 0);
      await journal.close();
      journal = await openJournal({ folder: copy, now: () => 0 });
      expect(journal.setAside, `byte ${at}`).toEqual([]);
      expect(await all(journal)).toHaveLength(read.length + 1);
      await journal.close();
    }
    // One row at a time, and more than one of them was hit.
    expect(Math.max(...lost)).toBeLessThanOrEqual(512);
    expect(lost.filter((count) => count > 0).length).toBeGreaterThan(5);
  });

  it("a file of the version before goes on with them, beside a copy of it as it was", async () => {
    const path = folder();
    const old = new DatabaseSync(join(path, segment));
    old.exec(
      "CREATE TABLE entry (seq INTEGER PRIMARY KEY, received_at INTEGER NOT NULL, kind INTEGER NOT NULL, topic TEXT, payload BLOB NOT NULL); PRAGMA user_version = 1",
    );
    const insert = old.prepare("INSERT INTO entry VALUES (?, 5, 1, 't', ?)");
    for (let seq = 1; seq <= 40; seq += 1) insert.run(seq, bytesOf(20, seq));
    old.close();
    const came = given(
      Array.from({ length: 100 }, () => ({ topic: 1, length: 30 })),
      1,
    );
    await writeAtOnce(path, came);
    expect(readdirSync(path)).toContain("journal-000000000001-before-2.sqlite");
    const journal = await openJournal({ folder: path, now: () => 0 });
    const entries = await all(journal);
    expect(entries.map(({ seq }) => seq)).toEqual(Array.from({ length: 140 }, (_, place) => place + 1));
    expect(plain(entries.slice(39, 41))).toMatchObject([
      { receivedAt: 5, payload: Buffer.from(bytesOf(20, 40)).toString("base64") },
      { receivedAt: 1_000_000, payload: Buffer.from(bytesOf(30, 0)).toString("base64") },
    ]);
    await journal.close();
  });
});
