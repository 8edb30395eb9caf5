import { createPipeline, LiveDriver } from "@drumlin/gateway/app";
import type { SeriesRow } from "@drumlin/gateway/series";
import { expect, it } from "vitest";
import { beginMs, testLine } from "../../acceptance/line-bench.ts";

/** More than are copied in one turn. */
const manyRows = 5000;

type Told = ConstructorParameters<typeof LiveDriver>[0]["onEntryFailure"];

function driverOf(pipeline: ReturnType<typeof createPipeline>, onEntryFailure: Told) {
  const rows: SeriesRow[] = [];
  const saved: unknown[][] = [];
  const driver = new LiveDriver({
    pipeline,
    journal: {
      saveCheckpoint: async (changes) => {
        saved.push(changes.rows.map((row) => ("stored" in row ? row.stored : row.plain)));
        return true;
      },
    },
    series: {
      begin: () => {},
      add: (row) => rows.push(row),
      waiting: 0,
      hasRoom: true,
      whenRoom: async () => {},
      sync: async () => {},
    },
    logbook: { record: () => {}, sync: async () => {} },
    onOutcome: () => {},
    onEntryFailure,
    onStoreFailure: () => {},
  });
  return { driver, rows, saved };
}

const message = (seq: number, v: number) => ({
  seq,
  receivedAt: beginMs + seq,
  kind: "message" as const,
  topic: "drumlin/1/saltmarsh-house/press/readings",
  payload: new TextEncoder().encode(JSON.stringify([{ n: "ec-1", u: "S/m", v }])),
});

it("an entry that a stage can't run is passed over and told; those before and after are stored", async () => {
  const pipeline = createPipeline();
  const faulty = {
    ...pipeline,
    push: ((entry, emit) => {
      if (entry.seq === 3) throw new Error("a fault");
      pipeline.push(entry, emit);
    }) as typeof pipeline.push,
  };
  const told: string[] = [];
  const { driver, rows } = driverOf(faulty, (seq, error) => told.push(`${seq} ${error.message}`));
  driver.takeAll([
    { seq: 1, receivedAt: beginMs, kind: "line", yaml: testLine },
    message(2, 0.01),
    message(3, 0.02),
    message(4, 0.03),
  ]);
  await driver.flush();
  expect(told).toEqual(["3 a fault"]);
  expect(rows.filter(({ series }) => series.startsWith("reading/")).map(({ value }) => value)).toEqual([
    0.01, 0.03,
  ]);
  expect(driver.takenSeq()).toBe(4);
});

it("what is in no hurry goes on when nothing waits for the path, or has waited a second", async () => {
  const { driver } = driverOf(createPipeline(), () => {});
  await driver.whenCalm();
  driver.takeSoon([
    { seq: 1, receivedAt: beginMs, kind: "line", yaml: testLine },
    ...Array.from({ length: 300 }, (_, index) => message(index + 2, 0.01)),
  ]);
  // They wait for their turn longer than 5 ms.
  for (const begunMs = performance.now(); performance.now() - begunMs < 10; );
  const begunMs = performance.now();
  await driver.whenCalm();
  expect(driver.takenSeq() === 301 || performance.now() - begunMs >= 1000).toBe(true);
});

/** A path each of whose rows says how many entries were run when it was copied. */
function countingPath() {
  let run = 0;
  function* manySame() {
    for (let key = 0; key < manyRows; key += 1) yield { stage: "count", key: String(key), plain: run };
  }
  const pipeline = {
    ...createPipeline(),
    push() {
      run += 1;
    },
    changesInTurns: () => ({ seq: run, versions: {}, rows: manySame() }),
  };
  return { ...driverOf(pipeline, () => {}), run: () => run };
}

it("rows of a checkpoint are copied in turns of the loop; what is committed meanwhile is run when all are copied", async () => {
  const { driver, saved, run } = countingPath();
  driver.takeAll([message(1, 0.01)]);
  const saving = driver.checkpoint();
  driver.takeSoon([message(2, 0.01), message(3, 0.02)]);
  await new Promise((resolve) => setImmediate(resolve));
  // It has its turn, and the rows are not all copied.
  expect([saved.length, run()]).toEqual([0, 1]);
  await saving;
  expect(saved).toEqual([new Array(manyRows).fill("1")]);
  await driver.flush();
  expect(run()).toBe(3);
  // Two at once: one after the other.
  await Promise.all([driver.checkpoint(), driver.checkpoint()]);
  expect(saved.slice(1)).toEqual([new Array(manyRows).fill("3"), new Array(manyRows).fill("3")]);
});

it("whoever needs what waits now has what is left of a checkpoint copied first", async () => {
  const { driver, saved, run } = countingPath();
  driver.takeAll([message(1, 0.01)]);
  const saving = driver.checkpoint();
  driver.takeSoon([message(2, 0.01)]);
  driver.catchUp();
  expect(run()).toBe(2);
  await saving;
  expect(saved).toEqual([new Array(manyRows).fill("1")]);
});

it("so many bytes wait for the path and no more; what was run is not counted among them", async () => {
  const { driver } = driverOf(createPipeline(), () => {});
  driver.takeAll([{ seq: 1, receivedAt: beginMs, kind: "line", yaml: testLine }]);
  // Bytes of no pack: they are refused at once.
  const payload = new Uint8Array(64 * 1024);
  const long = (from: number, count: number) =>
    Array.from({ length: count }, (_, index) => ({ ...message(from + index, 0), payload }));
  driver.takeSoon(long(2, 511));
  expect(driver.room()).toBeNull();
  driver.takeSoon(long(513, 1));
  const room = driver.room();
  expect(room).not.toBeNull();
  await room;
  await driver.flush();
  driver.takeSoon(long(514, 511));
  expect(driver.room()).toBeNull();
  await driver.flush();
  expect(driver.takenSeq()).toBe(1024);
});

it("what comes while other entries wait is run once and in order, however many slices that takes", async () => {
  const pipeline = createPipeline();
  const ran: number[] = [];
  const slow = {
    ...pipeline,
    push: ((entry) => {
      ran.push(entry.seq);
      // So long that a slice ends after sixteen.
      for (const untilMs = performance.now() + 0.1; performance.now() < untilMs; );
    }) as typeof pipeline.push,
  };
  const { driver } = driverOf(slow, () => {});
  const some = (first: number) => Array.from({ length: 40 }, (_, index) => message(first + index, 0.01));
  let given = 0;
  for (; given < 800; given += 40) {
    driver.takeSoon(some(given + 1));
    if (given >= 400) await new Promise((resolve) => setImmediate(resolve));
  }
  await driver.flush();
  expect(ran).toEqual(Array.from({ length: given }, (_, index) => index + 1));
  expect(driver.takenSeq()).toBe(given);
  expect(driver.room()).toBe(null);
});
