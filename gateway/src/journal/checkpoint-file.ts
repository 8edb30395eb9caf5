import { createHash } from "node:crypto";
import { open, readFile, rename } from "node:fs/promises";
import { join } from "node:path";
import type { Checkpoint } from "./journal.ts";

const names = ["checkpoint-a.json", "checkpoint-b.json"] as const;

function sum(body: string): string {
  return createHash("sha256").update(body).digest("hex");
}

async function readOne(path: string): Promise<Checkpoint | null> {
  try {
    const text = await readFile(path, "utf8");
    const end = text.indexOf("\n");
    const body = text.slice(end + 1);
    return text.slice(0, end) === sum(body) ? (JSON.parse(body) as Checkpoint) : null;
  } catch {
    return null;
  }
}

/** Two generations of the checkpoint, each with its checksum, so that a torn write leaves the other. */
export function createCheckpointFile(folder: string) {
  let next = 0;
  return {
    /** Writes beside, syncs, renames, syncs the folder. */
    async save(checkpoint: Checkpoint): Promise<void> {
      const body = JSON.stringify(checkpoint);
      const path = join(folder, names[next] as string);
      const file = await open(`${path}.new`, "w", 0o600);
      await file.writeFile(`${sum(body)}\n${body}`);
      await file.sync();
      await file.close();
      await rename(`${path}.new`, path);
      const directory = await open(folder, "r");
      await directory.sync();
      await directory.close();
      next = 1 - next;
    },
    /** The newest sound one; null when there is none. */
    async load(): Promise<Checkpoint | null> {
      const [a, b] = await Promise.all(names.map((name) => readOne(join(folder, name))));
      if (!a && !b) return null;
      const newerIsB = !a || (b !== null && b !== undefined && b.seq >= a.seq);
      next = newerIsB ? 0 : 1;
      return newerIsB ? (b ?? null) : a;
    },
  };
}
