import { createHash } from "node:crypto";
import { rmSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { deserialize } from "node:v8";
import type { Checkpoint } from "./journal.ts";

const names = ["checkpoint-a.bin", "checkpoint-b.bin"] as const;
const sumBytes = 32;

async function readOne(path: string): Promise<Checkpoint | null> {
  try {
    const whole = await readFile(path);
    const body = whole.subarray(sumBytes);
    const sum = createHash("sha256").update(body).digest();
    return sum.equals(whole.subarray(0, sumBytes)) ? (deserialize(body) as Checkpoint) : null;
  } catch {
    return null;
  }
}

/** Takes them away. */
export function forgetWholeCheckpoint(folder: string): void {
  for (const name of names) rmSync(join(folder, name), { force: true });
}

/** The newest sound checkpoint of the versions that wrote the state whole, in two generations; null when there is none. */
export async function loadWholeCheckpoint(folder: string): Promise<Checkpoint | null> {
  const found = await Promise.all(names.map((name) => readOne(join(folder, name))));
  return found.reduce((newest, one) => (one && (!newest || one.seq > newest.seq) ? one : newest), null);
}
