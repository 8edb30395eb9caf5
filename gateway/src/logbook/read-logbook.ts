import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { actsOf } from "./act-records.ts";
import { batchesOf } from "./batch-records.ts";
import { drumWordsOf } from "./drum-words.ts";
import { fillsOf } from "./fill-records.ts";
import { linesOf } from "./line-versions.ts";
import { pastEventsOf } from "./past-events.ts";
import { presencesOf } from "./presences.ts";
import { proofsOf } from "./proof-records.ts";
import { worksOf } from "./work-records.ts";

/** Looks into the logbook of a folder beside the gateway that has it open, for running the past. Throws where there is none. */
export function readLogbook(folder: string) {
  const database = new DatabaseSync(join(folder, "logbook.sqlite"), { readOnly: true, timeout: 5000 });
  const { calibrations, actsOf: ofKind } = actsOf(database);
  const { lastFills } = fillsOf(database);
  const { lastProofs } = proofsOf(database);
  const { lastWords } = drumWordsOf(database);
  const { lastBatches } = batchesOf(database);
  const { lastLine } = linesOf(database);
  const { lastPresences } = presencesOf(database);
  const { pastEvents } = pastEventsOf(database);
  const { lastWorks } = worksOf(database);
  return {
    calibrations,
    actsOf: ofKind,
    lastFills,
    lastProofs,
    lastWords,
    lastBatches,
    lastLine,
    lastPresences,
    pastEvents,
    lastWorks,
    close: () => database.close(),
  };
}
