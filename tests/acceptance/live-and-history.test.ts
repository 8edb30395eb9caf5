import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { deserialize, serialize } from "node:v8";
import {
  createCalendar,
  createHistoryStages,
  createPipeline,
  LiveDriver,
  type Outcome,
  pastRecords,
  runHistory,
} from "@drumlin/gateway/app";
import { readLine } from "@drumlin/gateway/line";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { JournalEntry } from "@drumlin/gateway/readings";
import type { SeriesRow } from "@drumlin/gateway/series";
import { describe, expect, it } from "vitest";
import { houseLife, type LifeStep, type SlowNodes } from "../golden/house-life.ts";

/** A store that only remembers: the contract of the real one is tested elsewhere. */
function memorySeries() {
  const rows = new Map<string, Map<number, SeriesRow>>();
  return {
    begin: () => {},
    add(row: SeriesRow) {
      const of = rows.get(row.series) ?? new Map<number, SeriesRow>();
      rows.set(row.series, of.set(row.tMs, row));
    },
    waiting: 0,
    hasRoom: true,
    whenRoom: async () => {},
    sync: async () => {},
    names: async () => [...rows.keys()],
    async *range(series: string, fromMs: number, toMs: number) {
      const all = [...(rows.get(series)?.values() ?? [])].sort((a, b) => a.tMs - b.tMs);
      yield all.filter(({ tMs }) => tMs >= fromMs && tMs < toMs);
    },
  };
}

type Told = Extract<Outcome, { kind: "measurement" | "run" | "fill" | "drum-water" | "alarm" }>;

/** Judged by messages and the gateway itself, of which the store keeps nothing: silences, refusals, clocks. */
const ofMessages: ReadonlySet<string> = new Set(["node-silent", "site-silent", "clock-wrong"]);

const under = (key: string | null) => (ofMessages.has(key?.split(":")[0] ?? "") ? null : key);

/** What history must give again: measurements by series and time, runs, fills that ended, words, alarms. */
function projection(outcomes: readonly Outcome[], fromMs: number, toMs: number): string[] {
  const told = outcomes.filter(
    (outcome): outcome is Told =>
      (outcome.kind === "measurement" && outcome.tMs >= fromMs && outcome.tMs < toMs) ||
      (outcome.kind === "alarm" &&
        outcome.atMs >= fromMs &&
        outcome.atMs < toMs &&
        !ofMessages.has(outcome.alarm.condition)) ||
      (outcome.kind === "run" && outcome.atMs >= fromMs && outcome.atMs < toMs) ||
      (outcome.kind === "drum-water" && outcome.atMs >= fromMs && outcome.atMs < toMs) ||
      (outcome.kind === "fill" && outcome.endedAtMs !== null && outcome.startedAtMs >= fromMs),
  );
  const lines = told.map((outcome) => {
    // Ids carry the number of the journal's entry, which stored readings have no more; the rest is the same.
    if (outcome.kind === "alarm")
      return JSON.stringify({
        ...outcome,
        id: "",
        alarm: { ...outcome.alarm, occurrence: "", under: under(outcome.alarm.under) },
      });
    if (outcome.kind !== "measurement") return JSON.stringify(outcome);
    const { id: _, channel: __, subject, ...rest } = outcome;
    return JSON.stringify({ ...rest, subject: `${subject.kind}/${subject.id}` });
  });
  // A restart tells what stands once more, in the same words.
  return [...new Set(lines)].sort();
}

const entryOf = (step: LifeStep): object | null => {
  switch (step.what) {
    case "message":
      return { kind: "message", topic: step.topic, payload: new TextEncoder().encode(step.text) };
    case "line":
      return { kind: "line", yaml: step.yaml };
    case "tick":
      return { kind: "tick" };
    default:
      return null;
  }
};

/** A life through the live driver, and what it leaves behind; `isLate`: something came later than it counts as current. */
async function lived(steps: readonly LifeStep[], lifeMs: number, folder: string) {
  const series = memorySeries();
  const logbook = openLogbook({ folder });
  const outcomes: Outcome[] = [];
  let isLate = false;
  const lastOf = new Map<string, { readonly tMs: number; readonly seq: number }>();
  let seq = 0;
  let acts = 0;
  let lastMs = 0;
  let pipeline = createPipeline();
  const create = () =>
    new LiveDriver({
      pipeline,
      journal: { saveCheckpoint: async () => true },
      series,
      logbook,
      onOutcome(outcome) {
        outcomes.push(outcome);
        if (outcome.kind !== "reading") return;
        if (pipeline.engineMs() - outcome.tMs > lifeMs) isLate = true;
        // Two packs in one millisecond: a burst of what came late, without any time of its own.
        const { node, tMs } = outcome;
        if (lastOf.get(node)?.tMs === tMs && lastOf.get(node)?.seq !== outcome.seq) isLate = true;
        lastOf.set(node, { tMs, seq: outcome.seq });
      },
      onEntryFailure: (_seq, error) => {
        throw error;
      },
      onStoreFailure: (error) => {
        throw error;
      },
    });
  let driver = create();
  const push = (entry: object, atMs: number) => {
    seq += 1;
    lastMs = Math.max(lastMs, atMs);
    driver.takeAll([{ seq, receivedAt: lastMs, ...entry } as JournalEntry]);
  };
  push({ kind: "start", version: "test", instance: "test" }, steps[0]?.atMs ?? 0);
  for (const step of steps) {
    const entry = entryOf(step);
    if (entry) push(entry, step.atMs);
    else if (step.what === "act") {
      acts += 1;
      push({ kind: "act", act: { id: `act-${acts}`, by: "keeper", ...step.act } }, step.atMs);
    } else if (step.what === "restart") {
      await driver.flush();
      const saved = deserialize(serialize(pipeline.snapshot()));
      pipeline = createPipeline();
      pipeline.restore(saved);
      driver = create();
      push({ kind: "start", version: "test", instance: "test" }, Math.round(step.atMs + step.downMs));
    }
  }
  await driver.flush();
  return { series, logbook, outcomes, isLate, toMs: lastMs + 1 };
}

const readOnly = (yaml: string) => {
  const read = readLine(yaml);
  return read.ok ? read.line : null;
};
/** Lives in which nothing comes late; in five of six something does. The long form draws as many as it is told. */
const punctual = [4, 5, 9, 15, 27, 36, 47, 51, 69, 75, 77, 86, 87, 103, 114, 145];
const asked = Number(process.env.DRUMLIN_LIVES ?? 0);
const lives = asked > 0 ? Array.from({ length: asked }, (_, seed) => seed) : punctual;

/** Lives with a pack each 60 s, whose nodes say that a probe compensates by itself; in these nothing comes late, and a float trips. */
const slowly = { everyS: 60, lives: asked > 0 ? lives : [4, 5, 12, 15, 17, 27, 31, 32, 36, 38, 59] };

/** Lives once, and again from what is stored; null where something came late. */
async function twice(seed: number, slow: SlowNodes | null = null) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-history-"));
  try {
    const steps = houseLife(seed, slow);
    const lifeMs = Math.max(60_000, 3 * (slow?.everyS ?? 20) * 1000);
    const { series, logbook, outcomes, isLate, toMs } = await lived(steps, lifeMs, folder);
    if (isLate) return null;
    const fromMs = (steps[0]?.atMs ?? 0) - 1;
    const past: Outcome[] = [];
    const records = pastRecords(logbook, createCalendar());
    for await (const some of runHistory(
      { series, records, readLine: readOnly, stages: createHistoryStages().judging },
      { fromMs, toMs },
    ))
      past.push(...some);
    logbook.close();
    return { live: projection(outcomes, fromMs, toMs), past: projection(past, fromMs, toMs) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe("where nothing came late, history gives what live gave, byte for byte", () => {
  const compared: number[] = [];
  it.each(lives)("life %i: measurements, runs, fills, words, alarms", async (seed) => {
    const told = await twice(seed);
    if (!told) return;
    compared.push(seed);
    expect(told.past).toEqual(told.live);
  });
  it("enough of the lives had nothing late", () => {
    expect(compared.length).toBeGreaterThanOrEqual(asked > 0 ? asked / 6 : punctual.length);
  });

  const tripped: number[] = [];
  it.each(slowly.lives)("life %i with a pack each 60 s, and what nodes announced", async (seed) => {
    const told = await twice(seed, slowly);
    if (!told) return;
    if (told.live.some((line) => line.includes('"end":"float-tripped"'))) tripped.push(seed);
    expect(told.past).toEqual(told.live);
  });
  it("in enough of them a float ended a fill", () => {
    expect(tripped.length).toBeGreaterThanOrEqual(asked > 0 ? asked / 12 : slowly.lives.length);
  });
});
