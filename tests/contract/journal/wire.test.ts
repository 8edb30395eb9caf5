import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { type NewEntry, openJournal } from "@drumlin/gateway/journal";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { afterEach, describe, expect, it } from "vitest";

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-wire-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

async function entriesOf(path: string): Promise<JournalEntry[]> {
  const journal = await openJournal({ folder: path, now: () => 2000 });
  const entries: JournalEntry[] = [];
  for await (const batch of journal.read(1)) entries.push(...batch);
  await journal.close();
  return entries;
}

describe("what an entry is stored as", () => {
  it("each kind comes back as it went in", async () => {
    const given: readonly NewEntry[] = [
      { kind: "start", version: "0.1.0", instance: "abc" },
      { kind: "line", yaml: "drumlin: 1\n" },
      { kind: "world", part: "clock", fact: "offset-ms", value: -3_600_000 },
      { kind: "world", part: "broker", fact: "connected", value: false },
      { kind: "act", act: { type: "release", id: "a", by: "keeper", drum: "mix", reason: "dumped" } },
      { kind: "derived", job: "7", fromMs: 1, toMs: 9, asOfSeq: 4, records: ["mix@1"], gone: ["mix@5"] },
      { kind: "tick" },
      { kind: "stop" },
    ];
    const path = folder();
    const journal = await openJournal({ folder: path, now: () => 1000 });
    for (const entry of given) await journal.append(entry);
    await journal.close();
    expect(await entriesOf(path)).toEqual(
      given.map((entry, index) => ({ seq: index + 1, receivedAt: 1000, ...entry })),
    );
  });

  it("a journal of before there were world and derived entries is read as it stands", async () => {
    const path = folder();
    const old = new DatabaseSync(join(path, "journal-000000000001.sqlite"));
    old.exec(
      "CREATE TABLE entry (seq INTEGER PRIMARY KEY, received_at INTEGER NOT NULL, kind INTEGER NOT NULL, topic TEXT, payload BLOB NOT NULL); PRAGMA user_version = 1",
    );
    const insert = old.prepare("INSERT INTO entry VALUES (?, ?, ?, ?, ?)");
    const text = (value: string) => new TextEncoder().encode(value);
    insert.run(1, 1000, 5, null, text('{"version":"0.1.0","instance":"abc"}'));
    insert.run(2, 1000, 3, null, text("drumlin: 1\n"));
    insert.run(3, 1001, 1, "drumlin/1/a/press/readings", text("[]"));
    insert.run(4, 1002, 4, null, text(""));
    insert.run(5, 1003, 6, null, text(""));
    insert.run(6, 1004, 2, null, text('{"type":"weigh","id":"w","by":"keeper","kg":3}'));
    old.close();
    expect((await entriesOf(path)).map(({ seq, kind }) => [seq, kind])).toEqual([
      [1, "start"],
      [2, "line"],
      [3, "message"],
      [4, "tick"],
      [5, "stop"],
      // An act of a later version: it is there, for the path to refuse by name.
      [6, "act"],
    ]);
  });
});
