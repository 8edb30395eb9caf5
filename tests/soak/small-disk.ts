import { spawnSync } from "node:child_process";
import { closeSync, mkdtempSync, openSync, rmSync, statfsSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const megabyte = 2 ** 20;

/** Mounts a file system of its own in memory ("320m"). Ends the program with 2 where this user may not. */
export function mountSmallDisk(size: string) {
  const place = mkdtempSync(join(tmpdir(), "drumlin-full-"));
  if (spawnSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", place]).status !== 0) {
    console.error("A small file system can't be mounted by this user: run it as root.");
    process.exit(2);
  }
  const filler = join(place, "filler");
  const freeMB = (): number => {
    const { bavail, bsize } = statfsSync(place);
    return (bavail * bsize) / megabyte;
  };
  return {
    place,
    freeMB,
    /** Fills the disk until so many MB are free; 0: to its last page. */
    fillTo(leftMB: number): void {
      const piece = Buffer.alloc(64 * 1024, 0x5a);
      const file = openSync(filler, "a");
      try {
        while (freeMB() > leftMB) writeSync(file, piece);
      } catch (error) {
        if ((error as { code?: string }).code !== "ENOSPC") throw error;
      } finally {
        closeSync(file);
      }
    },
    /** What filled it is gone. */
    makeRoom: (): void => rmSync(filler),
    unmount(): void {
      spawnSync("umount", ["-l", place]);
      rmSync(place, { recursive: true, force: true });
    },
  };
}
