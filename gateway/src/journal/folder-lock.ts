import { randomBytes } from "node:crypto";
import { closeSync, mkdirSync, openSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { JournalError } from "./journal.ts";

/** A data folder that this process holds. */
export interface FolderLock {
  /** Identity of the folder, made at its first start. */
  readonly instance: string;
  release(): void;
}

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

// A process's start time tells it from another one that got the same number later.
function startOf(pid: number): string {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    return stat.slice(stat.lastIndexOf(")") + 2).split(" ")[19] ?? "";
  } catch {
    return "";
  }
}

/** Takes the folder for this process; a lock whose process is gone is taken over. Throws `data-folder-in-use`. */
export function lockFolder(folder: string): FolderLock {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const path = join(folder, "lock");
  for (let attempt = 0; ; attempt += 1) {
    try {
      const file = openSync(path, "wx", 0o600);
      writeFileSync(file, `${process.pid} ${startOf(process.pid)}\n`);
      closeSync(file);
      break;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST" || attempt > 3) throw error;
      const [pid, start] = readFileSync(path, "utf8").trim().split(" ");
      if (pid && runs(Number(pid)) && (start ?? "") === startOf(Number(pid))) {
        throw new JournalError(
          "data-folder-in-use",
          `${folder} is in use by process ${pid}: one data folder serves one gateway. Stop that one, or name another --data.`,
        );
      }
      rmSync(path, { force: true });
    }
  }
  const instancePath = join(folder, "instance");
  let instance: string;
  try {
    instance = readFileSync(instancePath, "utf8").trim();
  } catch {
    instance = randomBytes(6).toString("hex");
    writeFileSync(instancePath, `${instance}\n`, { mode: 0o600 });
  }
  return { instance, release: () => rmSync(path, { force: true }) };
}
