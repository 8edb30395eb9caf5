import { defineConfig } from "vitest/config";
import { SlowestFirst } from "./tests/tooling/slowest-first.ts";

const unit = "tests/unit/**/*.test.ts";

export default defineConfig({
  test: {
    exclude: ["tests/containers/**", "**/node_modules/**"],
    setupFiles: ["tests/tooling/fixed-seed.ts"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // One more than the usual two cores: many files wait for a broker, a browser or a clock.
    maxWorkers: 3,
    sequence: { sequencer: SlowestFirst },
    projects: [
      // Files of one worker share their modules: loading them anew for each took as long as the tests themselves. A unit
      // test leaves nothing behind that another could see.
      { extends: true, test: { name: "unit", include: [unit], isolate: false } },
      { extends: true, test: { name: "whole", include: ["tests/**/*.test.ts"], exclude: [unit] } },
    ],
  },
});
