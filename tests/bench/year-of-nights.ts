// `node tests/bench/year-of-nights.ts`: a year of records of a busy house in a logbook; how long the list of nights and one night take.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readLineFile } from "@drumlin/gateway/alarms";
import { nightLines, nightReport } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import { days, timezone, writeYear } from "./year-of-records.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
timezone: ${timezone}
points: { supply: { conductivity: press/ec-1 }, after-resin: { conductivity: press/ec-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
drums: { fresh: { volume: 200 L, fed_by: supply, control: automatic, stop: drums/f-1 }, mix: { volume: 200 L, fed_by: after-resin, control: manual, stop: drums/f-2 } }
`;
const folder = mkdtempSync(join(tmpdir(), "drumlin-year-"));
const logbook = openLogbook({ folder });
try {
  const firstMs = Date.UTC(2026, 0, 1, 12);
  const records = writeYear(logbook, firstMs);
  const read = readLineFile(yaml);
  if (!read.ok) throw new Error("the line can't be read");
  const nowMs = firstMs + days * 86_400_000;
  const time = (what: string, work: () => unknown) => {
    work();
    const times = Array.from({ length: 9 }, () => {
      const beganMs = performance.now();
      work();
      return performance.now() - beganMs;
    }).sort((a, b) => a - b);
    console.log(`${what.padEnd(34)} ${(times[4] ?? 0).toFixed(1)} ms`);
  };
  console.log(`${records} records in ${days} days, median of 9:`);
  time("list of 30 nights", () => nightLines(logbook, read.line, nowMs, { limit: 30 }));
  time("list of 365 nights", () => nightLines(logbook, read.line, nowMs, { limit: 365 }));
  time("one night, the last", () => nightReport(logbook, read.line, "2026-12-30", nowMs));
  time("one night, the first", () => nightReport(logbook, read.line, "2026-01-02", nowMs));
} finally {
  logbook.close();
  rmSync(folder, { recursive: true, force: true });
}
