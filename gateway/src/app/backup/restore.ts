import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { copyWhole } from "../../database/index.ts";
import type { BackupProgress } from "./back-up.ts";
import { requireKnownSchema } from "./known-schemas.ts";
import { type Manifest, manifestName, manifestSchema, sumOf } from "./manifest.ts";
import { fileOnDisk, folderOnDisk } from "./on-disk.ts";
import { restoringName } from "./whole-folder.ts";

interface RestoreNeeds {
  readonly from: string;
  /** An empty or new folder, or one in which a restore was cut off. */
  readonly data: string;
  readonly onProgress: (progress: BackupProgress) => void;
}

/** What a text says as JSON; undefined where it is none. */
function plainIn(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function manifestIn(folder: string): Manifest {
  const path = join(folder, manifestName);
  if (!existsSync(path)) throw new Error(`${folder} holds no whole backup: ${manifestName} is missing.`);
  const plain = plainIn(readFileSync(path, "utf8"));
  if (plain === undefined) throw new Error(`${path} is damaged: nothing was put back. Take another backup.`);
  const read = manifestSchema.safeParse(plain);
  if (!read.success) throw new Error(`${path} can't be understood: was it written by a newer Drumlin?`);
  return read.data;
}

/** Throws before anything is put anywhere where a file is missing or too new. */
function requireReadable(from: string, { files }: Manifest): void {
  for (const { name } of files) {
    const source = join(from, name);
    if (!existsSync(source)) throw new Error(`${source} is missing: nothing was put back.`);
    requireKnownSchema(source, name);
  }
}

/** Takes away what a restore that was cut off had put there, and nothing else. */
function clearCutOff(data: string): void {
  const staging = join(data, restoringName);
  if (!existsSync(staging)) return;
  // Its manifest is there before the first file is moved, and until after the last.
  const moved = existsSync(join(staging, manifestName)) ? manifestIn(staging).files : [];
  for (const { name } of moved) rmSync(join(data, name), { force: true });
  rmSync(staging, { recursive: true });
}

/** Copies the files beside where they belong; throws, with nothing left, where one is damaged. */
async function stage({ from, data, onProgress }: RestoreNeeds, manifest: Manifest): Promise<void> {
  const staging = join(data, restoringName);
  const ofBytes = manifest.files.reduce((sum, { bytes }) => sum + bytes, 0);
  let doneBytes = 0;
  mkdirSync(staging, { mode: 0o700 });
  try {
    for (const { name, bytes, sha256 } of manifest.files) {
      onProgress({ file: name, doneBytes, ofBytes });
      const [source, into] = [join(from, name), join(staging, name)];
      mkdirSync(dirname(into), { recursive: true, mode: 0o700 });
      copyWhole(source, into);
      await fileOnDisk(into);
      // Of the copy: what the disk made of it counts.
      if (statSync(into).size !== bytes || (await sumOf(into)) !== sha256)
        throw new Error(`${source} is damaged (its sum is another): nothing was put back.`);
      doneBytes += bytes;
    }
    // All at once: a part of it would say nothing.
    const mark = join(staging, manifestName);
    writeFileSync(`${mark}.new`, JSON.stringify(manifest), { mode: 0o600 });
    await fileOnDisk(`${mark}.new`);
    renameSync(`${mark}.new`, mark);
    await folderOnDisk(staging);
  } catch (error) {
    rmSync(staging, { recursive: true, force: true });
    throw error;
  }
}

/**
 * Puts a backup into an empty folder: the next start of a gateway on it goes on from the backup's state and runs the rest of
 * its journal. One that a newer version made is refused before anything is touched. Files are copied and looked at beside their places first. Cut off at any moment, the folder is empty, whole, or
 * refused by `requireWholeFolder` until it is restored again. Throws in plain words, with nothing put back, when a file is
 * damaged.
 */
export async function restore(needs: RestoreNeeds): Promise<Manifest> {
  const { from, data } = needs;
  const manifest = manifestIn(from);
  requireReadable(from, manifest);
  mkdirSync(data, { recursive: true, mode: 0o700 });
  clearCutOff(data);
  if (readdirSync(data).length > 0) throw new Error(`${data} is not empty: name a new folder.`);
  await stage(needs, manifest);
  const staging = join(data, restoringName);
  // From the mark on no gateway starts here; one that did meanwhile keeps its folder.
  if (readdirSync(data).some((name) => name !== restoringName)) {
    rmSync(staging, { recursive: true });
    throw new Error(`${data} was put to use meanwhile: nothing was put back. Name a new folder.`);
  }
  for (const { name } of manifest.files) {
    mkdirSync(dirname(join(data, name)), { recursive: true, mode: 0o700 });
    renameSync(join(staging, name), join(data, name));
  }
  for (const folder of new Set(manifest.files.map(({ name }) => dirname(join(data, name)))))
    await folderOnDisk(folder);
  rmSync(join(staging, manifestName));
  rmSync(staging, { recursive: true });
  await folderOnDisk(data);
  return manifest;
}
