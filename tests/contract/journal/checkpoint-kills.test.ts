import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openJournal } from "@drumlin/gateway/journal";
import { afterAll, expect, it } from "vitest";

const root = mkdtempSync(join(tmpdir(), "drumlin-checkpoints-"));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const writer = fileURLToPath(new URL("./checkpoint-writer.ts", import.meta.url));

/** Kills the writer once it has saved so many more; gives the last number that it printed. */
function killAfter(folder: string, saved: number, on: readonly string[]): Promise<number> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [writer, folder, ...on], { stdio: ["ignore", "pipe", "inherit"] });
    let text = "";
    child.stdout.on("data", (chunk: Buffer) => {
      text += chunk.toString();
      // Not at once: at any of the steps of the next one.
      if (text.split("\n").length > saved) setTimeout(() => child.kill("SIGKILL"), (saved * 7) % 23);
    });
    child.on("close", () => resolve(Number(text.split("\n").at(-2))));
  });
}

/** The checkpoint of a folder: its number, and what its two rows hold. */
async function held(folder: string, faults: string[] = []) {
  const journal = await openJournal({ folder, now: Date.now, onFault: (text) => faults.push(text) });
  const saved = await journal.loadCheckpoint();
  await journal.close();
  if (!saved || !("rows" in saved)) return null;
  const rows = saved.rows.get("a");
  return { seq: saved.seq, x: rows?.get("x"), y: rows?.get("y") };
}

it.each([
  ["a thread of its own", []],
  ["the thread of the series store", ["series"]],
])(
  "on %s, kill -9 in any step of a checkpoint: the newest one is whole, and so is the generation before it",
  {
    timeout: 120_000,
  },
  async (_, on) => {
    const folder = mkdtempSync(join(root, "data-"));
    for (const saved of [2, 9, 17, 30]) {
      const last = await killAfter(folder, saved, on);
      const copy = mkdtempSync(join(root, "copy-"));
      cpSync(folder, copy, { recursive: true });
      const newest = await held(folder);
      expect(newest?.seq).toBeGreaterThanOrEqual(last);
      expect([newest?.x, newest?.y]).toEqual([newest?.seq, newest?.seq]);
      // The same with the file gone bad; its log would bring the damaged page back.
      const file = join(copy, "checkpoint.state");
      rmSync(`${file}-wal`, { force: true });
      writeFileSync(file, readFileSync(file).fill(0xa5, 0, 4096));
      const faults: string[] = [];
      const older = await held(copy, faults);
      expect(faults).toEqual([
        expect.stringMatching(/^checkpoint\.state was damaged .*; the hourly copy is used$/),
      ]);
      expect(older?.seq).toBeGreaterThanOrEqual(last - 2);
      expect([older?.x, older?.y]).toEqual([older?.seq, older?.seq]);
    }
  },
);
