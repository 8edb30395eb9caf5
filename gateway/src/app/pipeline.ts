import type { Act, ActRefused, Calibration } from "../acts/index.ts";
import { type Alarm, type AlarmChange, createAlarms } from "../alarms/index.ts";
import {
  createFills,
  createFlowSources,
  createRuns,
  type FillOutcome,
  type RunState,
} from "../fills/index.ts";
import { type Line, readLine } from "../line/index.ts";
import {
  createCurrent,
  createMeasurements,
  type Gone,
  type Measurement,
  type Unassigned,
} from "../measurements/index.ts";
import {
  createReadings,
  type Emit,
  type JournalEntry,
  type NodePresence,
  type PackTaken,
  type Reading,
  type Rejection,
} from "../readings/index.ts";

const refusedWords = {
  "no-such-drum": "The line has no such drum.",
  "no-such-stage": "The line has no such stage.",
  "no-such-channel": "The line has no such channel.",
  "calibration-not-usable":
    "One or two points are needed, apart from each other, that give a positive slope.",
  "not-possible-in-state": "It changes nothing in this state.",
} as const;

/** What became of an act: taken, or refused by name. */
interface ActDone {
  readonly kind: "act-done";
  readonly id: string;
  readonly act: Act;
  readonly atMs: number;
  readonly refused: ActRefused | null;
}

/** A line description came into force. */
interface LineInForce {
  readonly kind: "line";
  readonly seq: number;
  readonly atMs: number;
  readonly line: Line;
  readonly yaml: string;
}

/** Everything that can come out of the path. */
export type Outcome =
  | Reading
  | NodePresence
  | PackTaken
  | Rejection
  | Measurement
  | Unassigned
  | Gone
  | RunState
  | FillOutcome
  | AlarmChange
  | ActDone
  | LineInForce;

/** Raised when a stage's state changes its shape: an older checkpoint is then not restored but run again. */
export const pipelineVersion = "7";

/**
 * The path, in one expression: entry → readings → measurements → runs → alarms.
 * Pure: engine time is the greatest `receivedAt` so far; deadlines that fall before an entry pass first, in order.
 */
export function createPipeline() {
  let line: Line | null = null;
  let yaml: string | null = null;
  let engineMs = 0;
  let seq = 0;
  let outcomes = 0;
  const nextId = () => `${seq}.${++outcomes}`;

  const readings = createReadings();
  const measurements = createMeasurements();
  const current = createCurrent();
  const sources = createFlowSources();
  const runs = createRuns(sources);
  const fills = createFills(sources);
  const alarms = createAlarms({ nextId });

  const toAlarms =
    (emit: Emit<Outcome>) =>
    (run: RunState): void => {
      emit(run);
      fills.run(run);
      alarms.run(run, engineMs, emit);
    };

  const fillsToAlarms =
    (emit: Emit<Outcome>) =>
    (outcome: FillOutcome): void => {
      emit(outcome);
      if (outcome.kind === "fill") alarms.fill(outcome, engineMs, emit);
    };

  const toRuns =
    (emit: Emit<Outcome>) =>
    (outcome: Measurement | Unassigned): void => {
      emit(outcome);
      if (outcome.kind !== "measurement" || !current.take(outcome, engineMs)) return;
      runs.push(outcome, outcome.tMs, toAlarms(emit));
      fills.push(outcome, fillsToAlarms(emit));
      alarms.measurement(outcome, engineMs, emit);
    };

  const whatIsGone =
    (emit: Emit<Outcome>) =>
    (gone: Gone): void => {
      emit(gone);
      runs.gone(gone, engineMs, toAlarms(emit));
      fills.gone(gone, engineMs, fillsToAlarms(emit));
      alarms.gone(gone, engineMs, emit);
    };

  const toMeasurements =
    (emit: Emit<Outcome>) =>
    (outcome: Reading | NodePresence | PackTaken | Rejection): void => {
      emit(outcome);
      if (outcome.kind === "reading") measurements.push(outcome, engineMs, toRuns(emit));
      else if (outcome.kind === "presence") {
        measurements.presence(outcome);
        current.presence(outcome);
      }
    };

  const stages = [
    { stage: readings, into: toMeasurements },
    { stage: measurements, into: toRuns },
    { stage: current, into: whatIsGone },
    { stage: runs, into: toAlarms },
    { stage: fills, into: fillsToAlarms },
    { stage: alarms, into: (emit: Emit<Outcome>) => emit },
  ] as const;

  function nextDeadline(): number | null {
    let least: number | null = null;
    for (const { stage } of stages) {
      const deadline = stage.nextDeadline();
      if (deadline !== null && (least === null || deadline < least)) least = deadline;
    }
    return least;
  }

  function advance(toMs: number, emit: Emit<Outcome>): void {
    for (let deadline = nextDeadline(); deadline !== null && deadline <= toMs; deadline = nextDeadline()) {
      engineMs = Math.max(engineMs, deadline);
      for (const { stage, into } of stages) {
        const own = stage.nextDeadline();
        if (own !== null && own <= engineMs)
          (stage.pass as (nowMs: number, emit: unknown) => void)(engineMs, into(emit));
      }
    }
    engineMs = Math.max(engineMs, toMs);
  }

  function useLine(text: string, emit: Emit<Outcome> | null): void {
    const result = readLine(text);
    // A line entry was checked before it was journaled; one that this version no longer reads leaves the old in force.
    if (!result.ok) return;
    line = result.line;
    yaml = text;
    readings.useSite(line.site);
    readings.useForeign(line.foreign);
    measurements.useLine(line);
    runs.useLine(line);
    fills.useLine(line);
    alarms.useLine(line, engineMs, emit);
    emit?.({ kind: "line", seq, atMs: engineMs, line, yaml: text });
  }

  function calibrate(given: Act): ActRefused | null {
    const code = given.type === "calibration" ? measurements.act(given, engineMs) : null;
    return code === null ? null : { code, message: refusedWords[code] };
  }

  function stageUnknown(given: Act): ActRefused | null {
    if (given.type !== "medium-change" || line?.stages.some(({ id }) => id === given.stage)) return null;
    return { code: "no-such-stage", message: refusedWords["no-such-stage"] };
  }

  function actOnDrum(given: Act, emit: Emit<Outcome>): ActRefused | null {
    const code = fills.act(given, engineMs, fillsToAlarms(emit));
    if (given.type === "fill-started" || given.type === "fill-stopped")
      runs.said(given.drum, engineMs, toAlarms(emit));
    if (code === null) return null;
    return { code, message: refusedWords[code] };
  }

  function act(given: Act, emit: Emit<Outcome>): void {
    const refused =
      calibrate(given) ?? stageUnknown(given) ?? alarms.act(given, engineMs, emit) ?? actOnDrum(given, emit);
    emit({ kind: "act-done", id: nextId(), act: given, atMs: engineMs, refused });
  }

  return {
    /** Takes the next entry of the journal. */
    push(entry: JournalEntry, emit: Emit<Outcome>): void {
      seq = entry.seq;
      outcomes = 0;
      if (entry.kind === "start") {
        // Before time goes on: nobody fell silent and nothing settled while the gateway was away.
        current.restarted(entry.receivedAt);
        runs.restarted(engineMs, toAlarms(emit));
        fills.restarted(engineMs, fillsToAlarms(emit));
      }
      advance(entry.receivedAt, emit);
      switch (entry.kind) {
        case "message":
          readings.push(entry, engineMs, toMeasurements(emit));
          return;
        case "act":
          act(entry.act, emit);
          return;
        case "line":
          useLine(entry.yaml, emit);
          return;
        case "start":
        case "tick":
        case "stop":
        case "world":
        case "derived":
          return;
      }
    },
    /** Begins with what a logbook still knows when the journal's first entries are gone. */
    seed(text: string | null, calibrations: readonly Calibration[]): void {
      if (text !== null) useLine(text, null);
      for (const calibration of calibrations)
        measurements.act(calibration, calibration.validFromMs ?? Number.NEGATIVE_INFINITY);
    },
    nextDeadline,
    /** The line in force; null before the first line entry. */
    line: (): Line | null => line,
    yaml: (): string | null => yaml,
    engineMs: (): number => engineMs,
    standing: (): readonly Alarm[] => alarms.standing(),
    standingFills: () => fills.standing(),
    learned: (drum: string) => fills.learned(drum),
    snapshot: () => ({
      engineMs,
      yaml,
      readings: readings.snapshot(),
      measurements: measurements.snapshot(),
      current: current.snapshot(),
      sources: sources.snapshot(),
      runs: runs.snapshot(),
      fills: fills.snapshot(),
      alarms: alarms.snapshot(),
    }),
    restore(state: PipelineState): void {
      if (state.yaml !== null) useLine(state.yaml, null);
      engineMs = state.engineMs;
      readings.restore(state.readings);
      measurements.restore(state.measurements);
      current.restore(state.current);
      sources.restore(state.sources);
      runs.restore(state.runs);
      fills.restore(state.fills);
      alarms.restore(state.alarms);
    },
  };
}

export type Pipeline = ReturnType<typeof createPipeline>;
/** The state of the whole path as plain JSON. */
export type PipelineState = {
  readonly engineMs: number;
  readonly yaml: string | null;
  readonly readings: ReturnType<ReturnType<typeof createReadings>["snapshot"]>;
  readonly measurements: ReturnType<ReturnType<typeof createMeasurements>["snapshot"]>;
  readonly current: ReturnType<ReturnType<typeof createCurrent>["snapshot"]>;
  readonly sources: ReturnType<ReturnType<typeof createFlowSources>["snapshot"]>;
  readonly runs: ReturnType<ReturnType<typeof createRuns>["snapshot"]>;
  readonly fills: ReturnType<ReturnType<typeof createFills>["snapshot"]>;
  readonly alarms: ReturnType<ReturnType<typeof createAlarms>["snapshot"]>;
};
