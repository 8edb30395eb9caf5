import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openJournal } from "@drumlin/gateway/journal";
import { openLogbook } from "@drumlin/gateway/logbook";
import { afterEach, expect, it, vi } from "vitest";
import { deriveCommand } from "../../../gateway/src/app/commands/derive.ts";
import { testLine } from "../../acceptance/line-bench.ts";

const hourMs = 3_600_000;
const folder = mkdtempSync(join(tmpdir(), "drumlin-derive-command-"));
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

it("drumlin derive goes on in engine time: a clock that was set forward makes no delay run out", async () => {
  const engineMs = () => Date.now() - hourMs;
  const before = await openJournal({ folder, now: engineMs });
  await before.append({ kind: "line", yaml: testLine });
  await before.close();
  const logbook = openLogbook({ folder });
  logbook.record([{ kind: "line", seq: 1, atMs: Date.now(), yaml: testLine }] as never);
  logbook.close();
  // The machine's clock was an hour behind while this began, and was put right: the calendar is an hour ahead of it.
  const corrections = [{ fromEngineMs: Date.now() - 2 * hourMs, offsetMs: hourMs }];
  writeFileSync(join(folder, "clock.json"), JSON.stringify({ saved: null, corrections }));

  vi.spyOn(console, "log").mockImplementation(() => {});
  expect(
    await deriveCommand.run(["--data", folder, "--from", new Date(Date.now() - hourMs).toISOString()]),
  ).toBe(0);

  const after = await openJournal({ folder, now: engineMs });
  const entries = [];
  for await (const some of after.read(1)) entries.push(...some);
  await after.close();
  const last = entries.at(-1);
  expect(last?.kind).toBe("derived");
  expect(Math.abs((last?.receivedAt ?? 0) - engineMs())).toBeLessThan(5 * 60_000);
  // Up to now, as a person reads it.
  const { toMs } = last as unknown as { readonly toMs: number };
  expect(Math.abs(toMs - Date.now())).toBeLessThan(5 * 60_000);
});
