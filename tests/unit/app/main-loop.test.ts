import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createPipeline, LiveDriver } from "@drumlin/gateway/app";
import { openJournal } from "@drumlin/gateway/journal";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { afterAll, expect, it } from "vitest";
import { beginMs, testLine } from "../../acceptance/line-bench.ts";

const nodes = 400;
const packsAtFirst = 12_000;
const packsWaiting = 4000;
/** One turn of the loop may take this of the processor, ms: 4 ms of the path, and what a checkpoint copies. Measured: 14 to 21. */
const maxTurnMs = 60;

const folder = mkdtempSync(join(tmpdir(), "drumlin-main-loop-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The greatest processor time of this thread between two turns of its loop, ms: what others do on the machine counts not. */
function watchTurns() {
  const now = () => {
    const { user, system } = process.threadCpuUsage();
    return (user + system) / 1000;
  };
  let longestMs = 0;
  let lastMs = now();
  let isOver = false;
  const look = () => {
    const atMs = now();
    longestMs = Math.max(longestMs, atMs - lastMs);
    lastMs = atMs;
    if (!isOver) setImmediate(look);
  };
  setImmediate(look);
  return () => {
    isOver = true;
    return longestMs;
  };
}

function pack(index: number): JournalEntry {
  const round = Math.floor(index / nodes);
  return {
    seq: index + 2,
    receivedAt: beginMs + index * 5,
    kind: "message",
    topic: `drumlin/1/saltmarsh-house/${index % nodes === 0 ? "press" : `n${index % nodes}`}/readings`,
    payload: new TextEncoder().encode(
      JSON.stringify([
        { boot: 1, seq: round, up: round * 2, n: "ec-1", u: "S/m", v: 0.04 },
        { n: "ec-2", u: "S/m", v: 0.0001 },
      ]),
    ),
  };
}

it("a checkpoint copies what changed and runs nothing that waits; no turn of the loop is long", async () => {
  const journal = await openJournal({ folder, now: () => beginMs });
  const logbook = openLogbook({ folder });
  const saved: { readonly seq: number; readonly rows: readonly unknown[] }[] = [];
  const driver = new LiveDriver({
    pipeline: createPipeline(),
    journal: {
      saveCheckpoint(changes, whenStored) {
        saved.push(changes);
        return journal.saveCheckpoint(changes, whenStored);
      },
    },
    series: {
      begin: () => {},
      add: () => {},
      waiting: 0,
      hasRoom: true,
      whenRoom: async () => {},
      sync: async () => {},
    },
    logbook,
    onOutcome: () => {},
    onEntryFailure(_seq, error) {
      throw error;
    },
    onStoreFailure(error) {
      throw error;
    },
  });
  driver.takeAll([{ seq: 1, receivedAt: beginMs, kind: "line", yaml: testLine }]);
  driver.takeAll(Array.from({ length: packsAtFirst }, (_, index) => pack(index)));
  await driver.checkpoint();

  const longest = watchTurns();
  driver.takeSoon(Array.from({ length: packsWaiting }, (_, index) => pack(packsAtFirst + index)));
  await driver.checkpoint();
  expect(driver.takenSeq()).toBeLessThan(packsAtFirst + packsWaiting + 1);
  // It was saved as of what had been taken when it was asked for: nothing was run for it.
  expect(saved.at(-1)?.seq).toBe(packsAtFirst + 1);
  while (driver.takenSeq() < packsAtFirst + packsWaiting + 1)
    await new Promise((resolve) => setImmediate(resolve));
  await driver.checkpoint();
  const longestMs = longest();
  expect(longestMs).toBeLessThan(maxTurnMs);
  // One pack more: its node's rows, not the state.
  driver.takeAll([pack(packsAtFirst + packsWaiting)]);
  await driver.checkpoint();
  expect(saved.at(-1)?.rows.length).toBeLessThan(30);
  logbook.close();
  await journal.close();
});
