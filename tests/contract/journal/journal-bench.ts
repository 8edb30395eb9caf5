import { spawn, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Journal } from "@drumlin/gateway/journal";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { afterEach } from "vitest";

const folders: string[] = [];
export function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-journal-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

export async function all(journal: Journal): Promise<JournalEntry[]> {
  const entries: JournalEntry[] = [];
  for await (const batch of journal.read(1)) entries.push(...batch);
  return entries;
}
export const message = (text: string) => ({
  kind: "message" as const,
  topic: "t",
  payload: new TextEncoder().encode(text),
});

export function kill(path: string, afterLines: number): Promise<number> {
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

/** A place that is soon full: a file system of 1 MiB where that can be had, else a bound on the file. */
export function smallPlace(): { readonly path: string; readonly maxPages: number; free(): void } {
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
