import { existsSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import type { DatabaseSync } from "node:sqlite";
import type { Worker } from "node:worker_threads";
import { type FileFault, openOrRenew, type RenewSettings } from "../../database/index.ts";
import { setUnreadableAside } from "./earlier-store.ts";
import { type Retention, usualRetention } from "./retention.ts";
import { earlierPath, firstSchema, migrations, setEarlierBeside } from "./schema.ts";
import { forgetMark, isMarkedDamaged, isSoundStore, mendStore } from "./soundness.ts";
import { SqliteSeries } from "./sqlite-series.ts";

/** What the store needs. */
export interface SqliteSeriesOptions {
  readonly folder: string;
  /** The last entry that the journal has: of later ones the store knows nothing, whatever it says. */
  readonly lastSeq?: number;
  /** Names a damaged file that is set aside, epoch ms. */
  readonly nowMs?: number;
  /** Told what was wrong with the file, before a fresh one is begun. */
  readonly beforeRenewal?: RenewSettings["beforeRenewal"];
  /** How long rows are kept: 5 years, whatever their size. */
  readonly retention?: Partial<Retention>;
  /** A thread that ended is started again after so long; 1 s. */
  readonly againMs?: number;
  /** The reading thread starts with the first question, and ends when nothing was asked for so long; 5 min. */
  readonly restMs?: number;
  /** Told that the file was found damaged while it was used, and what became of it. */
  readonly onMended?: (fault: FileFault) => void;
  /** Told of each thread that starts. */
  readonly onThread?: (worker: Worker) => void;
}

/**
 * The embedded store: rows in memory, then in batches, then in blocks with their roll-ups, in one SQLite file of the data
 * folder; a thread for writing and one for reading. While a thread is away what is asked of it rejects; it is started
 * again. A store of the first schema is set beside (`series-1.sqlite`), read together with the new one and moved into it.
 * Rejects when the file can't be opened.
 */
export async function openSqliteSeries({
  folder,
  lastSeq,
  nowMs = 0,
  beforeRenewal = () => {},
  retention = {},
  againMs = 1000,
  restMs = 300_000,
  onMended = () => {},
  onThread = () => {},
}: SqliteSeriesOptions): Promise<SqliteSeries> {
  mkdirSync(folder, { recursive: true });
  const path = join(folder, "series.sqlite");
  const settings = {
    nowMs,
    givesBack: true,
    // Years of rows take too long to be looked at; without the names none of them is found.
    isSound: (database: DatabaseSync) =>
      database.prepare("SELECT count(name) AS n FROM series").get() !== undefined,
  };
  const isMarked = isMarkedDamaged(path);
  const wasBeside = existsSync(earlierPath(path));
  setEarlierBeside(path, () => openOrRenew(path, [firstSchema], { ...settings, beforeRenewal }).close());
  const isSetBeside = !wasBeside && existsSync(earlierPath(path));
  const aside = setUnreadableAside(earlierPath(path));
  if (aside !== null) beforeRenewal({ why: "damaged", aside, used: path, isWhole: false });
  const opened = openOrRenew(path, migrations, {
    ...settings,
    isSound: (database) => !isMarked && isSoundStore(database),
    afterCarrying: mendStore,
    // A new file beside the one that was just set there is no loss.
    beforeRenewal: (fault) => {
      if (fault.why !== "missing" || !isSetBeside) beforeRenewal(fault);
    },
  });
  const used = opened.location() as string;
  opened.close();
  forgetMark(path);
  return SqliteSeries.open({
    path: used,
    againMs,
    restMs,
    onMended,
    onThread,
    retention: { ...usualRetention, ...retention },
    ...(lastSeq === undefined ? {} : { lastSeq }),
  });
}
