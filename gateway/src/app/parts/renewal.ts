import { basename } from "node:path";
import type { Journal } from "../../journal/index.ts";
import { good, type Health } from "../parts.ts";

/** What becomes of a store's file that is damaged or gone: said by its name, and made again from the journal. */
export function createRenewal(file: string, log: (message: string) => void) {
  let health = good;
  return {
    /** Before a fresh file is begun: a start that is cut off meanwhile runs the journal again too. */
    before(journal: Journal, aside: string | null): void {
      const isFirst = journal.lastSeq === 0;
      journal.forgetCheckpoint();
      if (isFirst) return;
      const why =
        aside === null ? "was missing or empty" : `was damaged and is set aside as ${basename(aside)}`;
      const since = journal.firstSeq <= 1 ? "" : `, from its entry ${journal.firstSeq} on`;
      log(
        `${file} ${why}; a new one is begun${aside === null ? "" : " with what could be read"}, and the journal is run again into it${since}`,
      );
      health = { state: "degraded", text: `${file} ${why}; it was made again from the journal` };
    },
    /** Degraded until the next start: somebody should look at the disk. */
    health: (): Health => health,
  };
}
