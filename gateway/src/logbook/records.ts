import type { Migration } from "../database/index.ts";
import { actRecord } from "./act-records.ts";
import { alarmRecord } from "./alarm-changes.ts";
import { barrierSchema } from "./barrier.ts";
import { batchRecord } from "./batch-records.ts";
import { derivationSchema } from "./derivation-queue.ts";
import { drumWordRecord } from "./drum-words.ts";
import { fillRecord } from "./fill-records.ts";
import { lineRecord } from "./line-versions.ts";
import { nightRecord } from "./night-records.ts";
import { presenceRecord } from "./presences.ts";
import { proofRecord } from "./proof-records.ts";
import { refusalSchema } from "./refusals-at-the-door.ts";
import { rejectionRecord } from "./rejection-counts.ts";
import { drawRecord, floatRecord, gapRecord } from "./seen-records.ts";
import { startRecord } from "./starts.ts";
import { workRecord } from "./work-records.ts";

/** Every kind of record that the logbook keeps. */
export const records = [
  actRecord,
  alarmRecord,
  fillRecord,
  drumWordRecord,
  batchRecord,
  lineRecord,
  presenceRecord,
  proofRecord,
  startRecord,
  rejectionRecord,
  gapRecord,
  drawRecord,
  floatRecord,
  nightRecord,
  workRecord,
] as const;

type Outcomes<Kind> = Kind extends { writer(database: never): { write(outcome: infer Outcome): void } }
  ? Outcome
  : never;

/** What the logbook writes down. */
export type LogbookOutcome = Outcomes<(typeof records)[number]>;
/** The name of a kind of record. */
export type RecordName = LogbookOutcome["kind"];

/** Kinds of records, by their names. */
export const recordNames: readonly RecordName[] = records.map(({ kind }) => kind);
const kinds: ReadonlySet<string> = new Set(recordNames);

/** Whether an outcome of the path is one that the logbook writes down. */
export function isRecorded(outcome: { readonly kind: string }): outcome is LogbookOutcome {
  return kinds.has(outcome.kind);
}

const schemas: readonly Readonly<Record<number, string>>[] = [
  ...records.map(({ schema }) => schema),
  derivationSchema,
  refusalSchema,
  barrierSchema,
];
const newest = Math.max(...schemas.flatMap((schema) => Object.keys(schema).map(Number)));

/** The logbook's schema from version to version: what each kind of record says of it. */
export const migrations: readonly Migration[] = Array.from({ length: newest }, (_, index) =>
  schemas.map((schema) => schema[index + 1] ?? "").join("\n"),
);
/** The newest schema of `logbook.sqlite` that is known here. */
export const logbookSchema = newest;
