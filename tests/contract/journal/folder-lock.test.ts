import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openJournal } from "@drumlin/gateway/journal";
import { afterEach, describe, expect, it } from "vitest";

const writer = fileURLToPath(new URL("./writer.ts", import.meta.url));
const folders: string[] = [];
const children: ChildProcess[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-lock-"));
  folders.push(path);
  return path;
}
afterEach(async () => {
  for (const child of children.splice(0)) {
    if (child.exitCode !== null || child.signalCode !== null) continue;
    const ended = new Promise((resolve) => child.once("close", resolve));
    child.kill("SIGKILL");
    await ended;
  }
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

/** Puts a command into a process namespace of its own: as each container has one. The first process there is number 1. */
const apart = ["--pid", "--fork", "--kill-child", "--mount-proc"];
const rights = [[], ["--user", "--map-root-user"]];
const unshare = rights.find((right) => spawnSync("unshare", [...right, ...apart, "true"]).status === 0);

function write(path: string, isApart: boolean): ChildProcess {
  const command = [process.execPath, writer, path];
  const [program, ...args] = isApart ? ["unshare", ...(unshare ?? []), ...apart, ...command] : command;
  const child = spawn(program as string, args, { stdio: ["ignore", "pipe", "pipe"] });
  children.push(child);
  return child;
}

/** Resolves with the first line that it prints, or with what it said when it ended before. */
function begins(child: ChildProcess): Promise<string> {
  return new Promise((resolve) => {
    let errors = "";
    child.stderr?.on("data", (chunk: Buffer) => {
      errors += chunk.toString();
    });
    child.stdout?.once("data", () => resolve("writes"));
    child.once("close", () => resolve(errors));
  });
}

describe("one data folder, one gateway", () => {
  // Where the system has no such namespaces, two plain processes are tried: they must exclude each other too.
  it("two processes that can't see each other: the second is refused by name, and takes it once the first is killed", async () => {
    const path = folder();
    const isApart = unshare !== undefined;
    const first = write(path, isApart);
    expect(await begins(first)).toBe("writes");
    const refused = await begins(write(path, isApart));
    expect(refused).toMatch(
      /JournalError: .* is in use by process \d+ on \S+: one data folder serves one gateway/,
    );
    const ended = new Promise((resolve) => first.once("close", resolve));
    first.kill("SIGKILL");
    await ended;
    let third = await begins(write(path, isApart));
    // The namespace's processes end a moment after the one that made it.
    for (let tries = 0; third !== "writes" && tries < 50; tries += 1)
      third = await begins(write(path, isApart));
    expect(third).toBe("writes");
  });

  it("a note of a process that is gone holds nothing; a copy of the folder is another folder", async () => {
    const path = folder();
    const first = write(path, false);
    expect(await begins(first)).toBe("writes");
    const copy = folder();
    cpSync(path, copy, { recursive: true });
    const ofCopy = await openJournal({ folder: copy, now: Date.now });
    await expect(openJournal({ folder: path, now: Date.now })).rejects.toMatchObject({
      code: "data-folder-in-use",
    });
    await ofCopy.close();
  });
});
