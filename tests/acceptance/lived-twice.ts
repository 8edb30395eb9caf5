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
import type { LifeStep } from "../golden/house-life.ts";

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

/**
 * Judged by messages and the gateway itself, of which the store keeps nothing: silences, refusals, clocks; a channel that is
 * missing while its node talks on.
 */
const ofMessages: ReadonlySet<string> = new Set([
  "node-silent",
  "site-silent",
  "clock-wrong",
  "probe-implausible",
]);

/** Whether it rings hangs on a silent node, which rings for both. */
const ringsWithNodes: ReadonlySet<string> = new Set(["watch-lost"]);

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
        annunciated: ringsWithNodes.has(outcome.alarm.condition) ? null : outcome.annunciated,
        alarm: { ...outcome.alarm, occurrence: "", under: under(outcome.alarm.under) },
      });
    if (outcome.kind !== "measurement") return JSON.stringify(outcome);
    const { channel: _, subject, ...rest } = outcome;
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
/** What both told, made comparable, and what was told live as it came; null where something came late. */
export async function livedTwice(steps: readonly LifeStep[], lifeMs: number) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-history-"));
  try {
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
    return {
      live: projection(outcomes, fromMs, toMs),
      past: projection(past, fromMs, toMs),
      outcomes: outcomes as readonly Outcome[],
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
