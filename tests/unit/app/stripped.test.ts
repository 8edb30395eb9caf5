// A gateway's modules are stripped of their types before it begins, and read as plain text by each of its threads.
import { spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, expect, it } from "vitest";

const sources = fileURLToPath(new URL("../../../gateway/src/", import.meta.url));
const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A project of one module, and one in a room. */
function project() {
  const root = mkdtempSync(join(tmpdir(), "drumlin-stripped-"));
  folders.push(root);
  for (const folder of ["gateway/src/room", "firmware-protocol/src"])
    mkdirSync(join(root, folder), { recursive: true });
  for (const file of ["stripped.mjs", "load-stripped.mjs"])
    copyFileSync(join(sources, file), join(root, "gateway/src", file));
  writeFileSync(join(root, "gateway/src/package.json"), '{ "type": "module" }');
  const write = (file: string, text: string) => writeFileSync(join(root, "gateway/src", file), text);
  write("room/told.ts", "export const told: string = 'first';\n");
  write(
    "main.ts",
    "import { told } from './room/told.ts';\nconsole.log(told, process.features.typescript);\n",
  );
  const node = (...more: readonly string[]) => {
    const done = spawnSync(process.execPath, more, { cwd: root, encoding: "utf8" });
    return `${done.stdout}${done.status === 0 ? "" : done.stderr}`.trim();
  };
  return {
    write,
    keep: () =>
      node(
        "--input-type=module",
        "-e",
        "process.removeAllListeners('warning'); import('./gateway/src/stripped.mjs').then(({ keepStripped }) => console.log(keepStripped()))",
      ),
    /** Runs it where Node itself strips nothing, or where it does. */
    run: (more: readonly string[] = ["--no-strip-types"]) =>
      node(...more, "--import=./gateway/src/load-stripped.mjs", "gateway/src/main.ts"),
    kept: () => readdirSync(join(root, ".cache/stripped")).map((name) => name.split("@")[0]),
    block: () => writeFileSync(join(root, ".cache"), ""),
  };
}

it("what was stripped once is read without Node's compiler of types", () => {
  const { keep, run, kept } = project();
  expect(run()).toContain("ERR_UNKNOWN_FILE_EXTENSION");
  expect(keep()).toBe("true");
  expect(kept().toSorted()).toEqual(["gateway+src+main.ts", "gateway+src+room+told.ts"]);
  expect(run()).toBe("first false");
});

it("a module that was changed since is never read as it was", () => {
  const { keep, run, kept, write } = project();
  keep();
  write("room/told.ts", "export const told: string = 'other';\n");
  expect(run([])).toMatch(/^other /);
  expect(keep()).toBe("true");
  expect(run()).toBe("other false");
  expect(kept()).toHaveLength(2);
});

it("where nothing can be kept it says so, and Node strips them", () => {
  const { keep, run, block } = project();
  block();
  expect(keep()).toBe("false");
  expect(run([])).toMatch(/^first /);
});
