import { type ChildProcess, fork, spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Spoilt } from "./failing-disk-server.ts";

/** A disk of its own, of which bytes can be spoilt: reading them fails (EIO). */
export interface FailingDisk {
  readonly place: string;
  spoil(spoilt: Spoilt): Promise<void>;
  unmount(): void;
}

const server = fileURLToPath(new URL("./failing-disk-server.ts", import.meta.url));

/** Mounts one; null where this user may not. */
async function mountFailingDisk(): Promise<FailingDisk | null> {
  const [place, behind] = ["place", "behind"].map((what) =>
    mkdtempSync(join(tmpdir(), `drumlin-failing-${what}-`)),
  ) as [string, string];
  const child: ChildProcess = fork(server, [place, behind]);
  const clear = () => {
    for (const path of [place, behind]) rmSync(path, { recursive: true, force: true });
  };
  const [said] = await Promise.race([once(child, "message"), once(child, "exit")]);
  if (said !== "mounted") {
    clear();
    return null;
  }
  return {
    place,
    async spoil(spoilt) {
      const done = once(child, "message");
      child.send(spoilt);
      await done;
    },
    unmount() {
      spawnSync("umount", ["-l", place]);
      child.disconnect();
      clear();
    },
  };
}

/** One, or none where this user may not mount it: then it is said that what needs it was left out. */
export async function failingDisks(): Promise<readonly FailingDisk[]> {
  const disk = await mountFailingDisk();
  if (!disk) console.warn("No disk that fails can be mounted here: its tests are left out.");
  return disk ? [disk] : [];
}

/** A page of the databases on it. */
export const pageBytes = 4096;

/** A new folder on it. */
export const folderOn = ({ place }: FailingDisk): string => mkdtempSync(join(place, "data-"));

/** Spoils the first sector of a page of a file on it. */
export const spoilPage = ({ place, spoil }: FailingDisk, path: string, page: number): Promise<void> =>
  spoil({ name: path.slice(place.length + 1), from: page * pageBytes, bytes: 512 });
