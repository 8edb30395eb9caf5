import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readLineFile } from "@drumlin/gateway/alarms";
import { nightReport } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { Gap } from "@drumlin/gateway/nights";
import { expect, it } from "vitest";
import { replaceNow } from "./replace-now.ts";

const beganMs = Date.UTC(2026, 10, 10, 21);
const hourMs = 3_600_000;
const gap = (fromH: number, toH: number | null): Gap => ({
  kind: "gap",
  id: `press/ec-1@${fromH}`,
  of: "channel",
  subject: "press/ec-1",
  fromMs: beganMs + fromH * hourMs,
  toMs: toH === null ? null : beganMs + toH * hourMs,
});

it("what came late fills a gap: the night is revised, a gap that goes on stays the live path's", () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-seen-"));
  const logbook = openLogbook({ folder });
  const read = readLineFile(
    "drumlin: 1\nsite: saltmarsh-house\ntimezone: UTC\npoints: { supply: { conductivity: press/ec-1 } }\n",
  );
  if (!read.ok) throw new Error("the line can't be read");
  const { line } = read;
  const watched = () => nightReport(logbook, line, "2026-11-10", beganMs + 10 * hourMs)?.watched;
  try {
    logbook.record([gap(1, 3), gap(5, 6), gap(9, null)]);
    // 2 h, 1 h and the last hour of ten.
    expect(watched()).toBeCloseTo(0.6, 9);
    // A derivation of the first seven hours and on found only half an hour of the first gap.
    replaceNow(logbook.replacingSeen(beganMs, beganMs + 10 * hourMs, [gap(2.5, 3)]));
    expect(watched()).toBeCloseTo(0.85, 9);
    // Twice, it changes nothing more.
    replaceNow(logbook.replacingSeen(beganMs, beganMs + 10 * hourMs, [gap(2.5, 3)]));
    expect(watched()).toBeCloseTo(0.85, 9);
  } finally {
    logbook.close();
    rmSync(folder, { recursive: true, force: true });
  }
});
