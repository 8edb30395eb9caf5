import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/containers/**", "**/node_modules/**"],
    setupFiles: ["tests/tooling/fixed-seed.ts"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // A condition that never comes fails all the same; one that comes late on a busy machine does not.
    expect: { poll: { timeout: 30_000 } },
    maxWorkers: 2,
  },
});
