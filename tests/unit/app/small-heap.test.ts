import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const main = fileURLToPath(new URL("../../../gateway/src/main.mjs", import.meta.url));
const tell = "data:text/javascript,console.error(process.pid,%20...process.execArgv.slice(0,%201))";

it.skipIf(process.platform === "win32")(
  "a gateway begins again in its own place with a small heap, and with what Node was told; another command doesn't",
  () => {
    const toldBy = (command: string) => {
      const done = spawnSync(process.execPath, ["--import", tell, main, command, "--help"], {
        encoding: "utf8",
      });
      expect([done.status, done.stdout.split("\n")[0]]).toEqual([
        0,
        expect.stringContaining(`drumlin ${command}`),
      ]);
      return done.stderr.trim().split("\n");
    };
    const [first = "", again = "", ...more] = toldBy("run");
    expect(first).toMatch(/^\d+ --import$/);
    expect([again, ...more]).toEqual([first.replace("--import", "--max-semi-space-size=8")]);
    expect(toldBy("night")).toHaveLength(1);
  },
);
