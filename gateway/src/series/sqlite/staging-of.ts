import { memoryOf, type NumberedRows } from "../named-rows.ts";
import type { SeriesStaging, Written } from "../series-store.ts";
import type { StoreThread } from "../store-thread.ts";
import type { WriterRequest } from "./requests.ts";
import type { SeriesNames } from "./series-names.ts";

/** The staging of a store as its writing thread has it. */
export function stagingOf(
  writer: StoreThread<WriterRequest>,
  known: SeriesNames,
  commit: (isDurable: boolean) => Promise<void>,
): SeriesStaging {
  return {
    async stage(job, pieces) {
      // Handed on as they came: what stays here until it is collected counts as memory of this thread.
      const numbered = pieces.map(
        ({ names, ...rows }): NumberedRows => ({
          numbers: names.map((name) => known.numberOf(name)),
          rows,
        }),
      );
      // Rows that only the head has came after the job began: they are live ones.
      const names = known.unwritten();
      const request = { type: "stage", job, names, pieces: numbered } as const;
      const done = await writer.ask(request, pieces.flatMap(memoryOf));
      known.written(names);
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
