import { open } from "node:fs/promises";

/** Waits until the disk has a file. */
export async function fileOnDisk(path: string): Promise<void> {
  const file = await open(path, "r+");
  await file.sync().finally(() => file.close());
}

/** Waits until the disk has the names in a folder, where the system lets a folder be opened. */
export async function folderOnDisk(path: string): Promise<void> {
  const folder = await open(path, "r").catch(() => null);
  await folder?.sync().catch(() => {});
  await folder?.close();
}
