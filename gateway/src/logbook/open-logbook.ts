import { mkdirSync } from "node:fs";
import { join } from "node:path";
import type { DatabaseSync } from "node:sqlite";
import { inTransaction, openOrRenew, type RenewSettings } from "../database/index.ts";
import { actsOf } from "./act-records.ts";
import { alarmChangesOf } from "./alarm-changes.ts";
import { barrierOf } from "./barrier.ts";
import { batchesOf } from "./batch-records.ts";
import type { RecordWriter } from "./define-record.ts";
import { createDerivationQueue } from "./derivation-queue.ts";
import { drumWordsOf } from "./drum-words.ts";
import { fillsOf } from "./fill-records.ts";
import { linesOf } from "./line-versions.ts";
import type { Logbook } from "./logbook.ts";
import { lostWordsOf, noteLostWords } from "./lost-words.ts";
import { nightsOf } from "./night-records.ts";
import { pastEventsOf } from "./past-events.ts";
import { presencesOf } from "./presences.ts";
import { proofsOf } from "./proof-records.ts";
import { type LogbookOutcome, migrations, records } from "./records.ts";
import { refusalsAtTheDoorOf } from "./refusals-at-the-door.ts";
import { rejectionsOf } from "./rejection-counts.ts";
import { seenOf } from "./seen-records.ts";
import { worksOf } from "./work-records.ts";

function writersOf(database: DatabaseSync): ReadonlyMap<string, RecordWriter<LogbookOutcome>> {
  return new Map(
    records.map((record) => [record.kind, record.writer(database) as RecordWriter<LogbookOutcome>]),
  );
}

/**
 * Opens the logbook of a data folder. A damaged one is set aside; a fresh one has what could be read of it, and the rest
 * once the journal is run again: `beforeRenewal` is told first. One that a newer version wrote stays, and another is used.
 */
export function openLogbook({
  folder,
  nowMs = 0,
  beforeRenewal = () => {},
  hasLived = false,
}: {
  readonly folder: string;
  /** Names a damaged file that is set aside, epoch ms. */
  readonly nowMs?: number;
  readonly beforeRenewal?: RenewSettings["beforeRenewal"];
  /** A gateway lived in this folder: a logbook that is missing had something in it. */
  readonly hasLived?: boolean;
}): Logbook {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  let isBegunAnew = false;
  const database = openOrRenew(join(folder, "logbook.sqlite"), migrations, {
    nowMs,
    beforeRenewal(fault) {
      isBegunAnew ||= !fault.isWhole && fault.why !== "damaged";
      beforeRenewal(fault);
    },
    afterCarrying: noteLostWords,
  });
  if (hasLived && isBegunAnew) noteLostWords(database, "all");
  const writers = writersOf(database);
  const barrier = barrierOf(database);
  return {
    ...actsOf(database),
    ...alarmChangesOf(database),
    ...fillsOf(database),
    ...proofsOf(database),
    ...drumWordsOf(database),
    ...batchesOf(database),
    ...linesOf(database),
    ...presencesOf(database),
    ...pastEventsOf(database),
    ...rejectionsOf(database),
    ...refusalsAtTheDoorOf(database),
    ...seenOf(database),
    ...nightsOf(database),
    ...worksOf(database),
    sync: barrier.sync,
    storedSeq: barrier.storedSeq,
    ...lostWordsOf(database),
    derivations: createDerivationQueue(database),
    record: (outcomes, seq) =>
      inTransaction(database, () => {
        for (const outcome of outcomes) writers.get(outcome.kind)?.write(outcome);
        if (seq !== undefined) barrier.reach(seq);
      }),
    together: (work) => inTransaction(database, work),
    page: (kind, limit, before) =>
      records.find((record) => record.kind === kind)?.page(database, limit, before) ?? [],
    all: (kind) => records.find((record) => record.kind === kind)?.all(database) ?? [],
    close() {
      barrier.close();
      database.close();
    },
  };
}
