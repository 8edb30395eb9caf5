import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { type NewEntry, openJournal } from "@drumlin/gateway/journal";
import { describe, expect, it } from "vitest";
import { all, folder, message } from "./journal-bench.ts";

const line: NewEntry = { kind: "line", yaml: "stages: []" };
const tick: NewEntry = { kind: "tick" };
const world: NewEntry = { kind: "world", part: "disk", fact: "low", value: true };

/** Entries one by one, so that each has a row of its own. */
async function write(path: string, entries: readonly NewEntry[]): Promise<void> {
  const journal = await openJournal({ folder: path, now: () => 7 });
  for (const entry of entries) await journal.append(entry);
  await journal.close();
}

function change(path: string, seq: number, assigned: string): void {
  const database = new DatabaseSync(join(path, "journal-000000000001.sqlite"));
  expect(database.prepare(`UPDATE entry SET ${assigned} WHERE seq = ?`).run(seq).changes).toBe(1);
  database.close();
}

/** Read twice, as a start and a derivation do. */
async function read(path: string) {
  const faults: string[] = [];
  const journal = await openJournal({ folder: path, now: () => 7, onFault: (text) => faults.push(text) });
  const entries = await all(journal).finally(async () => {
    await all(journal);
    await journal.close();
  });
  return { seqs: entries.map(({ seq }) => seq), kinds: entries.map(({ kind }) => kind), faults };
}

describe("a row of one entry that changed on the disk", () => {
  it.each([
    ["a message of a kind that nobody knows", message("a"), "kind = 33"],
    ["a message as an act", message("a"), "kind = 2"],
    ["a message as a line", message("stages: []"), "kind = 3"],
    ["a message as a tick", message("a"), "kind = 4"],
    ["a message without its topic", message("a"), "topic = NULL"],
    ["a line as a tick", line, "kind = 4"],
    ["a line as a message", line, "kind = 1"],
    ["a tick as a message", tick, "kind = 1"],
    ["a fact that is no JSON any more", world, "payload = x'7b227061'"],
  ] as const)(
    "%s is left out, told of once, and keeps nobody from the others",
    async (_, entry, assigned) => {
      const path = folder();
      await write(path, [message("before"), entry, message("after")]);
      expect((await read(path)).seqs).toEqual([1, 2, 3]);
      change(path, 2, assigned);
      const { seqs, kinds, faults } = await read(path);
      expect(seqs).toEqual([1, 3]);
      expect(kinds).toEqual(["message", "message"]);
      expect(faults).toHaveLength(1);
      expect(faults[0]).toMatch(
        /^entry 2 of the journal can't be read and is left out: .+ look at the disk\.$/,
      );
    },
  );

  it("as the last of all, its number is given to no other", async () => {
    const path = folder();
    await write(path, [message("a"), message("b")]);
    change(path, 2, "kind = 33");
    const journal = await openJournal({ folder: path, now: () => 7 });
    expect((await all(journal)).map(({ seq }) => seq)).toEqual([1]);
    expect(await journal.append(message("c"))).toBe(3);
    await journal.close();
  });

  it("as many as there are, no more than some are told of by number", async () => {
    const path = folder();
    await write(
      path,
      Array.from({ length: 40 }, (_, place) => message(`${place}`)),
    );
    for (let seq = 1; seq <= 39; seq += 1) change(path, seq, "kind = 33");
    const { seqs, faults } = await read(path);
    expect(seqs).toEqual([40]);
    expect(faults).toHaveLength(21);
    expect(faults.at(-1)).toMatch(/more than 20 entries/);
  });
});
