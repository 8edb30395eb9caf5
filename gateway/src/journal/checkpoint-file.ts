import { createHash } from "node:crypto";
import { open, readFile, rename } from "node:fs/promises";
import { join } from "node:path";
import { deserialize, serialize } from "node:v8";
import type { Checkpoint } from "./journal.ts";

const names = ["checkpoint-a.bin", "checkpoint-b.bin"] as const;
const sumBytes = 32;

function sum(body: Uint8Array): Buffer {
  return createHash("sha256").update(body).digest();
}

async function readOne(path: string): Promise<Checkpoint | null> {
  try {
    const whole = await readFile(path);
    const body = whole.subarray(sumBytes);
    return sum(body).equals(whole.subarray(0, sumBytes)) ? (deserialize(body) as Checkpoint) : null;
  } catch {
    return null;
  }
}

/**
 * Two generations of the checkpoint, each with its SHA-256, so that a torn write leaves the other. The body is what
 * `v8.serialize` gives: later versions of Node read what earlier ones wrote.
 */
export function createCheckpointFile(folder: string) {
  let next: number | null = null;

  async function load(): Promise<Checkpoint | null> {
    const [a, b] = await Promise.all(names.map((name) => readOne(join(folder, name))));
    const newerIsB = !a || (b !== null && b !== undefined && b.seq >= a.seq);
    next = a || b ? (newerIsB ? 0 : 1) : 0;
    return (newerIsB ? b : a) ?? null;
  }

  return {
    /** Writes beside, syncs, renames, syncs the folder. */
    async save(checkpoint: Checkpoint): Promise<void> {
      if (next === null) await load();
      const place: number = next ?? 0;
      const body = serialize(checkpoint);
      const path = join(folder, names[place] as string);
      const file = await open(`${path}.new`, "w", 0o600);
      try {
        await file.writeFile(Buffer.concat([sum(body), body]));
        await file.sync();
      } finally {
        await file.close();
      }
      await rename(`${path}.new`, path);
      const directory = await open(folder, "r");
      await directory.sync();
      await directory.close();
      next = 1 - place;
    },
    /** The newest sound one; null when there is none. */
    load,
  };
}
