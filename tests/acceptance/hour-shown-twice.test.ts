import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createCalendar, createPipeline, LiveDriver, type Outcome } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { afterEach, expect, it } from "vitest";
import { beginMs, testLine } from "./line-bench.ts";

const hourMs = 3_600_000;
const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

/** A path over real stores whose calendar is stepped back by an hour exactly at `stepS`. */
async function house(stepS: number) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-twice-"));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const series = await openSqliteSeries({ folder });
  ends.push(() => series.close());
  const logbook = openLogbook({ folder });
  ends.push(() => logbook.close());
  const calendar = createCalendar([{ fromEngineMs: beginMs + stepS * 1000, offsetMs: -hourMs }]);
  const outcomes: Outcome[] = [];
  const driver = new LiveDriver({
    pipeline: createPipeline(),
    journal: { saveCheckpoint: async () => true },
    series,
    logbook,
    calendar,
    onOutcome: (outcome) => outcomes.push(outcome),
    onEntryFailure: (_seq, error) => {
      throw error;
    },
    onStoreFailure: (error) => {
      throw error;
    },
  });
  const entries: JournalEntry[] = [];
  const push = (entry: object, atS: number) => {
    entries.push({ seq: entries.length + 1, receivedAt: beginMs + atS * 1000, ...entry } as JournalEntry);
  };
  const node = (records: object[], atS: number) =>
    push(
      {
        kind: "message",
        topic: "drumlin/1/saltmarsh-house/press/readings",
        payload: new TextEncoder().encode(JSON.stringify(records)),
      },
      atS,
    );
  const rowsOf = async (name: string) => {
    await driver.flush();
    const rows: SeriesRow[] = [];
    for await (const batch of series.range(name, 0, Number.MAX_SAFE_INTEGER)) rows.push(...batch);
    return rows;
  };
  push({ kind: "line", yaml: testLine }, 0);
  return { driver, entries, push, node, rowsOf, logbook, outcomes };
}

it("an hour that the calendar shows twice: at the very same milliseconds nothing is overwritten, and running again adds nothing", async () => {
  const stepS = 3600;
  const { driver, entries, push, node, rowsOf } = await house(stepS);
  for (let at = 5; at < 7200; at += 5) {
    if (at === stepS) push({ kind: "world", part: "clock", fact: "offset-ms", value: -hourMs }, at);
    node([{ n: "ec-1", u: "S/m", v: 0.03 + at * 1e-6 }], at);
  }
  driver.takeAll(entries);
  const rows = await rowsOf("reading/press/ec-1[S/m]");
  expect(rows).toHaveLength(1439);
  expect(new Set(rows.map(({ value }) => value)).size).toBe(1439);
  expect(Math.max(...rows.map(({ tMs }) => tMs))).toBeLessThan(beginMs + hourMs);

  const again = await house(stepS);
  again.driver.takeAll(entries.slice(0, 1000));
  await again.driver.flush();
  again.driver.takeAll(entries);
  expect(await again.rowsOf("reading/press/ec-1[S/m]")).toEqual(rows);
});

it("after the step: absolute times of nodes are the calendar's, alarms and acts carry it, and breakthrough is told in time", async () => {
  const { driver, entries, push, node, logbook, outcomes } = await house(600);
  const pack = (kappa: number, atS: number, t: object) =>
    node(
      [
        { n: "ec-2", u: "S/m", v: kappa, ...t },
        { n: "t-2", u: "Cel", v: 25, ...t },
        { n: "flow-1", u: "m3/s", v: 2.5 / 60_000, ...t },
      ],
      atS,
    );
  for (let at = 5; at < 600; at += 5) pack(0.00005, at, {});
  push({ kind: "world", part: "clock", fact: "offset-ms", value: -hourMs }, 600);
  for (let at = 605; at < 1800; at += 5) pack(0.01, at, { t: (beginMs - hourMs) / 1000 + at });
  driver.takeAll(entries);
  await driver.flush();
  expect(outcomes.filter(({ kind }) => kind === "rejection")).toEqual([]);
  const raised = logbook.alarmChanges(10).find(({ change }) => change.why.startsWith("raised"));
  expect(raised?.change.atMs).toBeGreaterThan(beginMs - hourMs + 600_000);
  expect(raised?.change.atMs).toBeLessThan(beginMs - hourMs + 800_000);
  expect(raised?.change.alarm.raisedAtMs).toBe(raised?.change.atMs);
  // Shelved until a time that a person reads off the same calendar.
  const untilMs = beginMs - hourMs + 2000 * 1000;
  if (!raised) throw new Error("nothing was raised");
  const { key, occurrence } = raised.change.alarm;
  push({ kind: "act", act: { id: "a", by: "keeper", type: "shelve", key, occurrence, untilMs } }, 1800);
  driver.takeAll(entries.slice(-1));
  await driver.flush();
  expect(logbook.acts(1)[0]).toMatchObject({ atMs: beginMs - hourMs + 1800_000, act: { untilMs } });
  expect(logbook.alarmChanges(1)[0]?.change.alarm).toMatchObject({ key, shelvedUntilMs: untilMs });
  push({ kind: "tick" }, 2001);
  driver.takeAll(entries.slice(-1));
  await driver.flush();
  expect(logbook.alarmChanges(1)[0]?.change.atMs).toBe(untilMs);
});
