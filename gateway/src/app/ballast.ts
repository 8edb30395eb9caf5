import { rmSync, statSync } from "node:fs";
import { open } from "node:fs/promises";
import type { SpaceNeeds } from "./space-keeper.ts";

const pieceBytes = 64 * 1024;

/** Piece by piece: so much in one would stay in memory for long. */
async function lay(path: string, bytes: number): Promise<void> {
  // Bytes that no file system packs away are not needed: it holds blocks.
  const piece = Buffer.alloc(pieceBytes, 0xa5);
  await using file = await open(path, "w", 0o600);
  for (let left = bytes; left > 0; left -= pieceBytes)
    await file.writeFile(left < pieceBytes ? piece.subarray(0, left) : piece);
}

/** A file that holds so many bytes of the disk back. One that was cut off while it was laid is not there: it is laid again. */
export function ballastAt(path: string, bytes: number): SpaceNeeds["ballast"] {
  return {
    isThere: () => statSync(path, { throwIfNoEntry: false })?.size === bytes,
    lay: () => lay(path, bytes),
    remove: () => rmSync(path, { force: true }),
  };
}
