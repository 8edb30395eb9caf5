import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/containers/**", "**/node_modules/**"],
    setupFiles: ["tests/tooling/fixed-seed.ts"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
  },
});
