import { type ActRefused, unknownSubject } from "../acts/index.ts";
import { type Alarm, type AlarmChange, alarmCell, readLineFile, type WorkChange } from "../alarms/index.ts";
import type { FillOutcome, RunState } from "../fills/index.ts";
import type { Line } from "../line/index.ts";
import type {
  CurrentMeasurement,
  Gone,
  LateMeasurement,
  Measurement,
  Proof,
  StaleMeasurement,
  Unassigned,
} from "../measurements/index.ts";
import type { NightOver, Seen } from "../nights/index.ts";
import {
  type ActDone,
  Composer,
  type LineInForce,
  type PathChanges,
  type PathTurn,
  type Records,
  type SavedPath,
  SavedRows,
} from "../path/index.ts";
import type { JournalEntry, NodePresence, PackTaken, Reading, Rejection } from "../readings/index.ts";
import type { DriftRead } from "../trends/index.ts";
import { createStages } from "./path.ts";

/** Everything that can come out of the path. */
export type Outcome =
  | Reading
  | NodePresence
  | PackTaken
  | Rejection
  | Measurement
  | Unassigned
  | CurrentMeasurement
  | LateMeasurement
  | StaleMeasurement
  | Gone
  | Proof
  | RunState
  | FillOutcome
  | AlarmChange
  | DriftRead
  | WorkChange
  | Seen
  | NightOver
  | ActDone
  | LineInForce;

/** The whole state as plain data: what a checkpoint holds. */
export interface PathSnapshot {
  readonly seq: number;
  readonly versions: readonly (readonly [stage: string, version: number])[];
  readonly rows: readonly (readonly [stage: string, key: string, plain: unknown])[];
}

const noRecords: Records = { last: () => [], list: () => [] };
const attentionOrder = { wake: 0, tell: 1, today: 2, record: 3 } as const;

function rowsOf(snapshot: PathSnapshot): SavedRows {
  const saved = new SavedRows();
  saved.apply({
    seq: snapshot.seq,
    versions: Object.fromEntries(snapshot.versions),
    rows: snapshot.rows.map(([stage, key, plain]) => ({ stage, key, plain })),
  });
  return saved;
}

/** The live path over the journal's entries: the composer with the stages of `path.ts`. */
export function createPipeline() {
  const composer = new Composer({
    stages: createStages(),
    readLine(yaml) {
      const read = readLineFile(yaml);
      return read.ok ? read.line : null;
    },
    unknownSubject: (act, line): ActRefused | null => unknownSubject(act, line),
  });
  const kept = new SavedRows();
  return {
    board: composer.board,
    /** Takes the next entry of the journal. */
    push(entry: JournalEntry, emit: (outcome: Outcome) => void): void {
      composer.push(entry, emit as (outcome: { readonly kind: string }) => void);
    },
    nextDeadline: (): number | null => composer.nextDeadline(),
    /** The line in force; null before the first line entry. */
    line: (): Line | null => composer.line,
    yaml: (): string | null => composer.yaml,
    engineMs: (): number => composer.engineMs,
    /** Alarms that are not at rest, most urgent first, then newest. */
    standing: (): readonly Alarm[] =>
      [...composer.board.entries(alarmCell)]
        .map(([, alarm]) => alarm)
        .sort(
          (a, b) => attentionOrder[a.attention] - attentionOrder[b.attention] || b.raisedAtMs - a.raisedAtMs,
        ),
    /** What changed since the last call, for the checkpoint. */
    changes: (): PathChanges => composer.changes(),
    /** The same, a row at a time; nothing may be pushed before the last one was asked for. */
    changesInTurns: (): PathTurn => composer.changesInTurns(),
    /** The whole state. */
    snapshot(): PathSnapshot {
      kept.apply(structuredClone(composer.changes()));
      return {
        seq: kept.seq,
        versions: [...kept.versions],
        rows: [...kept.rows].flatMap(([stage, rows]) =>
          [...rows].map(([key, plain]) => [stage, key, plain] as const),
        ),
      };
    },
    /** Goes on from a snapshot. */
    restore(snapshot: PathSnapshot): void {
      this.resume(rowsOf(snapshot), noRecords);
    },
    /** Goes on from a checkpoint, or (null) from what the logbook still knows; gives the stages that had to. */
    resume(saved: SavedPath | null, records: Records): readonly string[] {
      if (saved)
        kept.apply({
          seq: saved.seq,
          versions: Object.fromEntries(saved.versions),
          rows: [...saved.rows].flatMap(([stage, rows]) =>
            [...rows].map(([key, plain]) => ({ stage, key, plain })),
          ),
        });
      return composer.restore(saved, records);
    },
  };
}

/** The live path over the journal's entries. */
export type Pipeline = ReturnType<typeof createPipeline>;
