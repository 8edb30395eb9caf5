import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const main = fileURLToPath(new URL("../../../gateway/src/main.mjs", import.meta.url));
const tell =
  "data:text/javascript,console.error(process.pid,%20...process.execArgv.slice(0,%201),%20process.env.MALLOC_ARENA_MAX)";

it.skipIf(process.platform === "win32")(
  "a gateway begins again in its own place with a small heap, and with what Node was told; another command doesn't",
  () => {
    const toldBy = (command: string, arenas?: string) => {
      const { MALLOC_ARENA_MAX: _, ...env } = process.env;
      const done = spawnSync(process.execPath, ["--import", tell, main, command, "--help"], {
        encoding: "utf8",
        env: arenas === undefined ? env : { ...env, MALLOC_ARENA_MAX: arenas },
      });
      expect([done.status, done.stdout.split("\n")[0]]).toEqual([
        0,
        expect.stringContaining(`drumlin ${command}`),
      ]);
      return done.stderr.trim().split("\n");
    };
    const [first = "", again = "", ...more] = toldBy("run");
    expect(first).toMatch(/^\d+ --import undefined$/);
    expect([again, ...more]).toEqual([first.replace("--import undefined", "--max-semi-space-size=8 2")]);
    // What somebody set stays.
    expect(toldBy("run", "8")[1]).toMatch(/ --max-semi-space-size=8 8$/);
    expect(toldBy("night")).toHaveLength(1);
  },
);
