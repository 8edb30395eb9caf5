import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { main } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";

let folder: string;
const printed: string[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-export-"));
  printed.length = 0;
  for (const way of ["log", "error"] as const)
    vi.spyOn(console, way).mockImplementation((text: string) => void printed.push(text));
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

describe("drumlin export", () => {
  it("prints a kind's records as JSON lines, oldest first, while the logbook is open", async () => {
    const logbook = openLogbook({ folder });
    logbook.record([
      { kind: "start", seq: 9, atMs: 90 },
      { kind: "start", seq: 2, atMs: 20 },
      { kind: "line", seq: 3, atMs: 30, yaml: "drumlin: 1\n" },
    ]);
    expect(await main(["export", "start", "--data", folder])).toBe(0);
    logbook.close();
    expect(printed.map((line) => JSON.parse(line))).toEqual([
      { kind: "start", seq: 2, atMs: 20 },
      { kind: "start", seq: 9, atMs: 90 },
    ]);
  });

  it("of a kind that there is not says which there are; of a folder without a logbook makes none", async () => {
    expect(await main(["export", "constructor", "--data", folder])).toBe(2);
    expect(printed[0]).toContain("act-done, alarm, fill");
    expect(await main(["export", "fill", "--data", folder])).toBe(1);
    expect(printed[1]).toContain("holds no logbook");
    expect(readdirSync(folder)).toEqual([]);
  });
});
