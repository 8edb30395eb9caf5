import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync } from "node:fs";
import { open } from "node:fs/promises";
import { basename, join } from "node:path";
import type { BackupProgress } from "./back-up.ts";
import { type Manifest, manifestName, manifestSchema, sumOf } from "./manifest.ts";

interface RestoreNeeds {
  readonly from: string;
  /** An empty or new folder. */
  readonly data: string;
  readonly onProgress: (progress: BackupProgress) => void;
}

function manifestOf(from: string): Manifest {
  const path = join(from, manifestName);
  if (!existsSync(path)) throw new Error(`${from} holds no whole backup: ${manifestName} is missing.`);
  const read = manifestSchema.safeParse(JSON.parse(readFileSync(path, "utf8")));
  if (!read.success) throw new Error(`${path} can't be understood: was it written by a newer Drumlin?`);
  return read.data;
}

/**
 * Puts a backup into an empty folder, after every file's sum was found right: the next start of a gateway on it goes on from
 * the backup's state and runs the rest of its journal. Throws in plain words, with nothing copied, when a file is damaged.
 */
export async function restore({ from, data, onProgress }: RestoreNeeds): Promise<Manifest> {
  const manifest = manifestOf(from);
  mkdirSync(data, { recursive: true, mode: 0o700 });
  if (readdirSync(data).length > 0) throw new Error(`${data} is not empty: name a new folder.`);
  const ofBytes = 2 * manifest.files.reduce((sum, { bytes }) => sum + bytes, 0);
  let doneBytes = 0;
  for (const { name, bytes, sha256 } of manifest.files) {
    onProgress({ file: name, doneBytes, ofBytes });
    const path = join(from, basename(name));
    if (!existsSync(path)) throw new Error(`${path} is missing: nothing was put back.`);
    if (statSync(path).size !== bytes || (await sumOf(path)) !== sha256)
      throw new Error(`${path} is damaged (its sum is another): nothing was put back.`);
    doneBytes += bytes;
  }
  for (const { name, bytes } of manifest.files) {
    onProgress({ file: name, doneBytes, ofBytes });
    const into = join(data, basename(name));
    copyFileSync(join(from, basename(name)), into);
    const file = await open(into, "r+");
    await file.sync().finally(() => file.close());
    doneBytes += bytes;
  }
  return manifest;
}
