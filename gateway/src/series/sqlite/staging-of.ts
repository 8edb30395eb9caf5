import type { RowBatch } from "../row-batch.ts";
import type { SeriesRow, SeriesStaging, Written } from "../series-store.ts";
import type { StoreThread } from "../store-thread.ts";
import type { WriterRequest } from "./requests.ts";
import type { NumberedNames } from "./store-writer.ts";

/** Rows as the writing thread takes them. */
export interface ColumnsToWrite {
  readonly columns: RowBatch;
  /** Names of series that the file does not have yet. */
  readonly names: NumberedNames;
  readonly transfer: ArrayBuffer[];
  /** To be called once the file has them. */
  written(): void;
}

/** The staging of a store as its writing thread has it. */
export function stagingOf(
  writer: StoreThread<WriterRequest>,
  asColumns: (batch: readonly SeriesRow[]) => ColumnsToWrite,
  commit: (isDurable: boolean) => Promise<void>,
): SeriesStaging {
  return {
    async stage(job, batch) {
      // Rows that only the head has came after the job began: they are live ones.
      const { names, columns, transfer, written } = asColumns(batch);
      const done = await writer.ask({ type: "stage", job, names, batch: columns }, transfer);
      written();
      return done as Written;
    },
    // The log of the file is synced as a whole.
    sync: () => commit(true),
    async publish(job) {
      // What the head holds is older than what comes into force now, and is to stand below it.
      await commit(false);
      await writer.ask({ type: "publish", job });
    },
    discard: async (job) => void (await writer.ask({ type: "discard", job })),
    staged: async () => (await writer.ask({ type: "staged" })) as string[],
  };
}
