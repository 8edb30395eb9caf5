import { copyFile, open, readdir, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";

/** Earlier texts that are kept beside the file. */
const maxKept = 20;

async function keepOld(file: string, nowMs: number): Promise<void> {
  const stamp = new Date(nowMs).toISOString().replaceAll(/[:.]/g, "-");
  await copyFile(file, `${file}.before-${stamp}`);
  const old = (await readdir(dirname(file)))
    .filter((name) => name.startsWith(`${basename(file)}.before-`))
    .sort();
  for (const name of old.slice(0, -maxKept)) await rm(join(dirname(file), name));
}

/** Puts a new text in the file's place, whole or not at all, synced; the old one stays beside it. Rejects with what the system says. */
export async function replaceLineFile(file: string, yaml: string, nowMs: number): Promise<void> {
  await keepOld(file, nowMs);
  // It is a person's own file: who may read it stays as it was.
  const { mode } = await stat(file);
  const handle = await open(`${file}.new`, "w");
  try {
    await handle.chmod(mode & 0o777);
    await handle.writeFile(yaml);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(`${file}.new`, file);
  const folder = await open(dirname(file), "r");
  await folder.sync();
  await folder.close();
}
