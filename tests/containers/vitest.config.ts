import { defineConfig } from "vitest/config";

// One container after the other: images take memory, and their ports are the system's choice.
export default defineConfig({
  test: {
    root: import.meta.dirname,
    include: ["**/*.test.ts"],
    testTimeout: 120_000,
    hookTimeout: 600_000,
    maxWorkers: 1,
  },
});
