import { defineConfig } from "vitest/config";
import { SlowestFirst } from "./tests/tooling/slowest-first.ts";

/** What leaves nothing behind: the rooms, and lives of the whole path on a fake clock. */
const pure = [
  "tests/unit/**/*.test.ts",
  "tests/acceptance/conditions/*.test.ts",
  "tests/acceptance/{batches,batches-attacked,batches-kept,counters-contradict,counters-in-history,drum-*,drums,drums-*}.test.ts",
  "tests/acceptance/millpond/*.test.ts",
  "tests/acceptance/{fill-words,fills,hidden-water,live-and-history,odd-names,proved-float,raised-versions,random-lives}.test.ts",
  "tests/acceptance/{cellar-*,clock-leapt,late-data,late-packs,lived-path,long-backlog,salt-by-pressure,unplugged}.test.ts",
  "tests/acceptance/{acknowledged,answered-*,behind-stages,poisoned-*,resin-breakthrough,silenced-alarms,silences,unseen-water}.test.ts",
  "tests/detection/*.test.ts",
  "tests/golden/golden.test.ts",
  "tests/values/*.test.ts",
];
/** Tests that want a container engine have a command of their own. */
const elsewhere = ["tests/containers/**", "**/node_modules/**"];
/** What holds a limit in wall-clock time has the machine to itself, after all others: another test is no fault of it. */
const alone = [
  // A minute passes in a second of it: half a second in which nothing gets its turn is half a minute of silence.
  "tests/acceptance/clock-while-down.test.ts",
  "tests/browser/budget.test.ts",
  "tests/contract/broker/limits.test.ts",
  "tests/unit/accounts/another-process.test.ts",
  // How much a thread keeps is looked at between two of its collections.
  "tests/unit/app/small-heap.test.ts",
];

export default defineConfig({
  test: {
    exclude: elsewhere,
    // Node itself reads TypeScript: what is tested is what runs, and nothing is transformed.
    experimental: { viteModuleRunner: false, nodeLoader: false },
    setupFiles: ["tests/tooling/fixed-seed.ts"],
    // Limits for what hangs, far over what anything takes: on a busy machine a minute passes for nothing.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    // What is waited for is a condition, never a limit.
    expect: { poll: { timeout: 60_000 } },
    // One more than the usual two cores: many files wait for a broker, a browser or a clock.
    maxWorkers: 3,
    sequence: { sequencer: SlowestFirst },
    projects: [
      // Files of one worker share their modules: loading them anew for each took as long as the tests themselves. Such a
      // test leaves nothing behind that another could see.
      {
        extends: true,
        test: { name: "pure", include: pure, exclude: [...alone, ...elsewhere], isolate: false },
      },
      {
        extends: true,
        test: { name: "whole", include: ["tests/**/*.test.ts"], exclude: [...pure, ...alone, ...elsewhere] },
      },
      {
        extends: true,
        test: {
          name: "alone",
          include: alone,
          maxWorkers: 1,
          fileParallelism: false,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
