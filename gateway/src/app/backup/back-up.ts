import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { copyReadable, copyWhole, isDamage } from "../../database/index.ts";
import { lastSeqIn } from "../../journal/index.ts";
import { diskSpaceOf } from "../disk-space.ts";
import { leastFreeOf } from "../space-keeper.ts";
import { type Manifest, manifestName, sumOf } from "./manifest.ts";
import { fileOnDisk, folderOnDisk } from "./on-disk.ts";
import { requireWholeFolder } from "./whole-folder.ts";

/** What the backup is at. */
export interface BackupProgress {
  readonly file: string;
  readonly doneBytes: number;
  readonly ofBytes: number;
}

interface BackUpNeeds {
  readonly data: string;
  /** An empty or new folder. */
  readonly to: string;
  /** The folder `secrets` too: passwords and keys as they are. */
  readonly withSecrets: boolean;
  readonly nowMs: number;
  readonly onProgress: (progress: BackupProgress) => void;
  /** The space of the disk on which a folder lies. */
  readonly diskOf?: typeof diskSpaceOf;
}

/**
 * In this order a copy is whole although the gateway goes on: the state of the path first (S); then the stores, each of
 * which has everything up to S and may have more; the journal last, which has everything that they have. Messages come
 * before the logbook, whose changes of alarms they follow: one may be told twice, none is passed over. A store of an earlier
 * version comes before the one that it is moved into.
 */
const before = [
  "checkpoint.state",
  "notifications.sqlite",
  "series-1.sqlite",
  "series.sqlite",
  "logbook.sqlite",
  "accounts.sqlite",
];
const plain = ["clock.json", "instance"];
const journalName = /^journal-\d{12}\.sqlite$/;

function stateSeqIn(path: string): number | null {
  if (!existsSync(path)) return null;
  const database = new DatabaseSync(path, { readOnly: true });
  try {
    const row = database.prepare("SELECT seq FROM meta").get();
    return (row?.seq as number | undefined) ?? null;
  } finally {
    database.close();
  }
}

/** A whole copy of a database at one moment, whatever is written to it meanwhile. */
function copyDatabase(from: string, to: string): void {
  const database = new DatabaseSync(from, { readOnly: true, timeout: 5000 });
  try {
    database.prepare("VACUUM INTO ?").run(to);
  } finally {
    database.close();
  }
}

/**
 * A file of the journal that is not written to any more. One that is damaged is copied as it lies there: what can be read of it is
 * saved when it is read, and all else must not go without a copy for it.
 */
function copySealed(from: string, to: string): void {
  try {
    copyDatabase(from, to);
  } catch (error) {
    const hasLog = (statSync(`${from}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0;
    if (!isDamage(error) || hasLog) throw error;
    for (const suffix of ["", "-journal"]) rmSync(to + suffix, { force: true });
    copyReadable(from, to);
  }
}

/** Copies; throws by name where the file is damaged. */
function copyByName(copy: (from: string, to: string) => void, from: string, to: string): void {
  try {
    copy(from, to);
  } catch (error) {
    if (!isDamage(error))
      throw new Error(
        `${basename(from)} could not be copied into ${dirname(to)}: ${(error as Error).message}. Nothing was left there.`,
      );
    throw new Error(
      `${from} is damaged (${(error as Error).message}). A start of the gateway saves what can be read of it: then back up again.`,
    );
  }
}

/** Names of secrets with their folder. */
function secretsIn(data: string): string[] {
  const folder = join(data, "secrets");
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ name }) => `secrets/${name}`);
}

function copyPlain(from: string, to: string): void {
  mkdirSync(dirname(to), { recursive: true, mode: 0o700 });
  copyWhole(from, to);
}

const megabytes = (bytes: number) => Math.ceil(bytes / 2 ** 20);

/** Throws where the copies would leave the gateway's own disk so short of space that it begins to let go of what it keeps. */
async function requireRoomBeside(
  { data, to, diskOf = diskSpaceOf }: BackUpNeeds,
  ofBytes: number,
): Promise<void> {
  if (statSync(data).dev !== statSync(to).dev) return;
  const { freeBytes, allBytes } = await diskOf(to);
  const left = leastFreeOf(allBytes);
  if (freeBytes >= ofBytes + left) return;
  throw new Error(
    `${to} lies on the gateway's own disk, of which ${megabytes(freeBytes)} MB are free: the copies take up to ${megabytes(ofBytes)} MB, and the gateway needs ${megabytes(left)} MB. Name a folder on another disk.`,
  );
}

/**
 * Copies a data folder, whose gateway may run, with a manifest. Throws in plain words when it can't be a whole one, and takes
 * away what was copied; where the program itself is ended, it lies in the folder without a manifest.
 */
export async function backUp(needs: BackUpNeeds): Promise<Manifest> {
  const { data, to } = needs;
  requireWholeFolder(data);
  if (!existsSync(join(data, "logbook.sqlite"))) throw new Error(`${data} is no data folder of a gateway.`);
  mkdirSync(to, { recursive: true, mode: 0o700 });
  if (readdirSync(to).length > 0)
    throw new Error(
      `${to} is not empty${existsSync(join(to, manifestName)) ? "" : ", and no whole backup"}: name a new folder.`,
    );
  try {
    return await copied(needs);
  } catch (error) {
    for (const name of readdirSync(to)) rmSync(join(to, name), { recursive: true });
    throw error;
  }
}

async function copied(needs: BackUpNeeds): Promise<Manifest> {
  const { data, to, withSecrets, nowMs, onProgress } = needs;
  const journals = () =>
    readdirSync(data)
      .filter((name) => journalName.test(name))
      .sort();
  const sizeOf = (name: string) => statSync(join(data, name), { throwIfNoEntry: false })?.size ?? 0;
  const ofBytes = [...before, ...plain, ...journals()].reduce((sum, name) => sum + sizeOf(name), 0);
  await requireRoomBeside(needs, ofBytes);
  const files: Manifest["files"][number][] = [];
  let doneBytes = 0;

  async function take(name: string, copy: (from: string, to: string) => void): Promise<void> {
    const [from, into] = [join(data, name), join(to, name)];
    if (!existsSync(from)) return;
    onProgress({ file: name, doneBytes, ofBytes });
    copyByName(copy, from, into);
    await fileOnDisk(into);
    files.push({ name, bytes: statSync(into).size, sha256: await sumOf(into) });
    doneBytes += sizeOf(name);
  }

  for (const name of before) await take(name, copyDatabase);
  for (const name of [...plain, ...(withSecrets ? secretsIn(data) : [])]) await take(name, copyPlain);
  const segments = journals();
  for (const name of segments) await take(name, name === segments.at(-1) ? copyDatabase : copySealed);
  const manifest: Manifest = {
    drumlin: 1,
    at: new Date(nowMs).toISOString(),
    files,
    ...seqsOf(to),
  };
  for (const folder of new Set(files.map(({ name }) => dirname(join(to, name))))) await folderOnDisk(folder);
  onProgress({ file: manifestName, doneBytes: ofBytes, ofBytes });
  const path = join(to, manifestName);
  await writeFile(`${path}.new`, `${JSON.stringify(manifest, null, 2)}\n`, { mode: 0o600 });
  await fileOnDisk(`${path}.new`);
  renameSync(`${path}.new`, path);
  await folderOnDisk(to);
  return manifest;
}

/** How far the copies go. Throws where the journal lacks entries between the state and its end. */
function seqsOf(to: string): Pick<Manifest, "checkpointSeq" | "journalSeq"> {
  const names = readdirSync(to)
    .filter((name) => journalName.test(name))
    .sort();
  const [first, last] = [names[0], names.at(-1)];
  const checkpointSeq = stateSeqIn(join(to, "checkpoint.state"));
  if (first === undefined || last === undefined) throw new Error("The folder holds no journal.");
  const firstSeq = Number(first.slice("journal-".length, -".sqlite".length));
  const journalSeq =
    lastSeqIn(join(to, last)) ?? Number(last.slice("journal-".length, -".sqlite".length)) - 1;
  if (checkpointSeq !== null && firstSeq > checkpointSeq + 1)
    throw new Error(
      `The journal was pruned meanwhile: it begins at ${firstSeq}, the state ends at ${checkpointSeq}.`,
    );
  if (checkpointSeq !== null && journalSeq < checkpointSeq)
    throw new Error(`The journal ends at ${journalSeq}, before the state at ${checkpointSeq}.`);
  return { checkpointSeq, journalSeq };
}
