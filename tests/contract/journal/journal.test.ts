import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Journal, openJournal } from "@drumlin/gateway/journal";
import type { JournalEntry } from "@drumlin/gateway/readings";
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
    expect(journal.clockBehindMs).toBe(9_000_000 - 5000);
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
    const journal = await openJournal({ folder: folder(), now: Date.now, mostWaitingEntries: 10 });
    const results = await Promise.allSettled(Array.from({ length: 30 }, () => journal.append(message("x"))));
    expect(results.filter(({ status }) => status === "fulfilled")).toHaveLength(10);
    expect(results.flatMap((result) => (result.status === "rejected" ? [result.reason.code] : []))).toEqual(
      Array(20).fill("journal-full"),
    );
    expect(await all(journal)).toHaveLength(10);
    await journal.close();
  });

  it("keeps two checkpoints and reads the older one when the newer is torn", async () => {
    const path = folder();
    const journal = await openJournal({ folder: path, now: Date.now });
    await journal.saveCheckpoint({ seq: 1, version: "1", states: { a: 1 } });
    await journal.saveCheckpoint({ seq: 2, version: "1", states: { a: 2 } });
    expect(await journal.loadCheckpoint()).toMatchObject({ seq: 2 });
    const newer = ["checkpoint-a.json", "checkpoint-b.json"]
      .map((name) => join(path, name))
      .find((name) => readFileSync(name, "utf8").includes('"seq":2')) as string;
    writeFileSync(newer, readFileSync(newer, "utf8").slice(0, 90));
    expect(await journal.loadCheckpoint()).toMatchObject({ seq: 1 });
    await journal.close();
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

describe("killed under load", () => {
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
});
