import { statfs } from "node:fs/promises";

/** A disk's space: what this user may still fill, and all of it, bytes. */
export interface DiskSpace {
  readonly freeBytes: number;
  readonly allBytes: number;
}

/** The space of the disk on which a folder lies. */
export async function diskSpaceOf(folder: string): Promise<DiskSpace> {
  const { bavail, blocks, bsize } = await statfs(folder);
  return { freeBytes: bavail * bsize, allBytes: blocks * bsize };
}
