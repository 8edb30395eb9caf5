import { rmSync, statSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import type { SpaceNeeds } from "./space-keeper.ts";

/** A file that holds so many bytes of the disk back. One that was cut off while it was laid is not there: it is laid again. */
export function ballastAt(path: string, bytes: number): SpaceNeeds["ballast"] {
  return {
    isThere: () => statSync(path, { throwIfNoEntry: false })?.size === bytes,
    // Bytes that no file system packs away are not needed: it holds blocks.
    lay: () => writeFile(path, Buffer.alloc(bytes, 0xa5), { mode: 0o600 }),
    remove: () => rmSync(path, { force: true }),
  };
}
