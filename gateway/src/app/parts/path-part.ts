import type { Act } from "../../acts/index.ts";
import type { FloatEdge } from "../../fills/index.ts";
import type { Journal } from "../../journal/index.ts";
import type { Logbook } from "../../logbook/index.ts";
import type { SqliteSeries } from "../../series/index.ts";
import { type ActDesk, createActDesk } from "../act-desk.ts";
import type { ClockKeeper } from "../clock-keeper.ts";
import type { GatewayCounts } from "../gateway-metrics.ts";
import type { GatewayOptions } from "../gateway-options.ts";
import { LiveDriver } from "../live-driver.ts";
import { createLiveState } from "../live-state.ts";
import { logbookRecords } from "../logbook-records.ts";
import { definePart, type Giving } from "../parts.ts";
import { pathHealth } from "../path-health.ts";
import { createPipeline, type Outcome, type Pipeline } from "../pipeline.ts";

const version = "0.1.0";
/** The last entry waits no longer for a disk that takes nothing. */
const lastEntryWithinMs = 1000;

/** An act was taken; times are the calendar's. */
type ActTaken = (act: Act, atMs: number, validFromMs: number | null) => void;

/** The path over the journal, and what it is at. */
export interface RunningPath {
  readonly pipeline: Pipeline;
  readonly driver: LiveDriver;
  readonly live: ReturnType<typeof createLiveState>;
  readonly counts: Readonly<GatewayCounts>;
  readonly desk: ActDesk;
  /** Tells of edges of floats that wait for a second reading, live only. */
  onFloatEdge(listener: (edge: FloatEdge) => void): void;
  /** Tells of each act that was taken, those since the last checkpoint first. */
  onAct(listener: ActTaken): void;
}

interface PathPartNeeds {
  readonly options: Pick<GatewayOptions, "lineYaml" | "simulated" | "before" | "log">;
  readonly time: ClockKeeper;
  readonly journal: Giving<Journal>;
  readonly series: Giving<SqliteSeries>;
  readonly logbook: Giving<Logbook>;
}

type MadePath = RunningPath & { readonly storeFailure: () => string | null };

/** The path with its driver, nothing run yet. */
function makePath({ options, time, journal, series, logbook }: PathPartNeeds): MadePath {
  const { clock, calendar } = time;
  const pipeline = createPipeline();
  const live = createLiveState({
    engineMs: clock.engineMs,
    calendar,
    simulated: options.simulated === true,
    board: pipeline.board,
    line: () => pipeline.line(),
  });
  const desk = createActDesk((entry, receivedAt) => journal.it.append(entry, receivedAt));
  const counts: GatewayCounts = {
    readings: 0,
    rejections: 0,
    repeats: 0,
    storeFailures: 0,
    entryFailures: 0,
    unreadActs: 0,
  };
  const taken: Parameters<ActTaken>[] = [];
  let hearer: ActTaken | null = null;
  let edgeHearer: ((edge: FloatEdge) => void) | null = null;
  let storeFailure: string | null = null;

  function actDone(outcome: Extract<Outcome, { kind: "act-done" }>): void {
    const { act, refused, atMs } = outcome;
    if (refused === null) {
      const validFromMs = act.validFromMs === undefined ? null : calendar.at(act.validFromMs);
      if (hearer) hearer(act, calendar.at(atMs), validFromMs);
      else taken.push([act, calendar.at(atMs), validFromMs]);
    }
    if (refused?.code === "act-not-known") {
      counts.unreadActs += 1;
      options.log(`act ${outcome.id} is passed over: ${refused.message}`);
    }
    desk.answer(act.id, refused);
  }

  const driver = new LiveDriver({
    pipeline,
    journal: journal.it,
    series: series.it,
    logbook: logbook.it,
    calendar,
    onOutcome(outcome, seq) {
      live.take(outcome, seq);
      if (outcome.kind === "reading") counts.readings += 1;
      else if (outcome.kind === "rejection") counts.rejections += 1;
      else if (outcome.kind === "pack" && outcome.repeat) counts.repeats += 1;
      else if (outcome.kind === "act-done") actDone(outcome);
      else if (outcome.kind === "float-edge") edgeHearer?.(outcome);
    },
    onEntryFailure(seq, error, entry) {
      counts.entryFailures += 1;
      options.log(`journal entry ${seq} could not be run and is passed over: ${error.message}`);
      if (entry.kind === "act") desk.failed(entry.act.id, error.message);
    },
    onStoreFailure(error, store) {
      counts.storeFailures += 1;
      storeFailure = `${store}.sqlite`;
      options.log(`${store}: ${store}.sqlite can't be written: ${error.message}`);
    },
    onStored() {
      storeFailure = null;
    },
  });
  return {
    pipeline,
    driver,
    live,
    counts,
    desk,
    onFloatEdge(listener) {
      edgeHearer = listener;
    },
    onAct(listener) {
      hearer = listener;
      for (const act of taken.splice(0)) listener(...act);
    },
    storeFailure: () => storeFailure,
  };
}

/**
 * The newest checkpoint up to which every store has everything, and what is said of a store that is behind a newer one:
 * its log was cut, or an old copy was put back.
 */
async function checkpointOf({ journal, logbook, series }: PathPartNeeds) {
  const newest = await journal.it.loadCheckpoint();
  const known = [
    { file: "logbook.sqlite", seq: logbook.it.storedSeq() },
    { file: "series.sqlite", seq: series.it.storedSeq },
  ];
  const late = known.filter(({ seq }) => newest !== null && seq !== null && seq < newest.seq);
  if (newest === null || late.length === 0) return { checkpoint: newest, behind: null };
  const checkpoint = await journal.it.loadCheckpoint(Math.min(...late.map(({ seq }) => seq ?? 0)));
  const fromSeq = (checkpoint?.seq ?? journal.it.firstSeq - 1) + 1;
  const behind = late.map(
    ({ file, seq }) =>
      `${file} ends at entry ${seq}, before the checkpoint at ${newest.seq}; the journal is run again into it from entry ${fromSeq} on`,
  );
  return { checkpoint, behind: behind.join("; ") };
}

/** Goes on from the checkpoint: runs what was journaled since, then the start and the line of now. Gives what a store lacked. */
async function goOn(needs: PathPartNeeds, { driver }: RunningPath): Promise<string | null> {
  const { options, time } = needs;
  const [journal, logbook] = [needs.journal.it, needs.logbook.it];
  const { checkpoint, behind } = await checkpointOf(needs);
  if (checkpoint) logbook.wordsAreKept();
  // Of an old copy of the logbook the journal may lack what came after it.
  const isCopyOld = !checkpoint && (logbook.storedSeq() ?? journal.firstSeq) < journal.firstSeq - 1;
  const records = logbookRecords(logbook, time.calendar, logbook.areWordsLost() || isCopyOld);
  if (behind !== null) options.log(`path: ${behind}`);
  const fromSeq = driver.restore(checkpoint, journal.firstSeq, records);
  for await (const entries of journal.read(fromSeq)) {
    time.take(entries);
    driver.takeAll(entries);
    await driver.room();
  }
  journal.onCommitted(time.take);
  journal.onCommitted((entries) => driver.takeSoon(entries));
  // History with its own times comes after these two.
  const atMs = options.before ? 0 : undefined;
  const timeByWall = time.clock.isByWall();
  await journal.append({ kind: "start", version, instance: journal.instance, timeByWall }, atMs);
  if (logbook.lastLine() !== options.lineYaml)
    await journal.append({ kind: "line", yaml: options.lineYaml }, atMs);
  await options.before?.(async (topic, payload, receivedAt) => {
    const seq = await journal.append({ kind: "message", topic, payload }, receivedAt);
    await driver.room();
    return seq;
  });
  if (options.before) await driver.flush();
  driver.catchUp();
  return behind;
}

/** Resolves when `work` has ended either way, or after `ms`. */
async function atMost(work: Promise<unknown>, ms: number): Promise<void> {
  const timeout = Promise.withResolvers<void>();
  const timer = setTimeout(timeout.resolve, ms);
  await Promise.race([work.catch(() => {}), timeout.promise]);
  clearTimeout(timer);
}

/** The path over the journal: it goes on where it stopped, and leaves a checkpoint when it stops. */
export function pathPart(needs: PathPartNeeds): Giving<RunningPath> {
  let behind: string | null = null;
  return definePart("path", {
    async start() {
      const path = makePath(needs);
      behind = await goOn(needs, path);
      if (!path.pipeline.line()) throw new Error("The line file did not come into force.");
      return path;
    },
    async stop({ driver }) {
      await atMost(needs.journal.it.append({ kind: "stop" }), lastEntryWithinMs);
      // A checkpoint runs nothing by itself.
      try {
        await driver.flush();
        await driver.checkpoint();
      } finally {
        driver.end();
      }
    },
    health: ({ storeFailure, driver }) =>
      pathHealth({ failure: storeFailure(), hasRoom: driver.hasRoom, behind }),
  });
}
