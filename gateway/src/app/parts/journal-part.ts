import type { Worker } from "node:worker_threads";
import type { TakeIn } from "../../database/index.ts";
import { type Journal, openJournal } from "../../journal/index.ts";
import { requireWholeFolder } from "../backup/whole-folder.ts";
import type { ClockKeeper } from "../clock-keeper.ts";
import { definePart, type Giving, good } from "../parts.ts";

interface JournalPartNeeds {
  readonly data: string;
  readonly time: ClockKeeper;
  readonly log: (message: string) => void;
  /** Told when nothing can be stored any more by this process. */
  readonly onEnded: (why: string) => void;
  /** Takes in whoever writes checkpoints; without it that has a thread of its own. */
  readonly takeIn?: TakeIn;
  readonly onThread?: (worker: Worker) => void;
}

/** The journal of the data folder; the clock goes on after its last entry. */
export function journalPart({
  data,
  time,
  log,
  onEnded,
  takeIn,
  onThread,
}: JournalPartNeeds): Giving<Journal> {
  const faults: string[] = [];
  const tell = (text: string): void => {
    faults.push(text);
    log(`journal: ${text}`);
  };
  return definePart("journal", {
    async start() {
      requireWholeFolder(data);
      const journal = await openJournal({
        folder: data,
        now: time.clock.engineMs,
        onTrouble: (trouble) =>
          log(
            trouble === null
              ? "journal: written again"
              : `journal: can't be written, nothing is acknowledged until it can: ${trouble} Look at the disk of ${data}.`,
          ),
        onEnded,
        onFault: tell,
        ...(takeIn ? { takeIn } : {}),
        ...(onThread ? { onThread } : {}),
      });
      // Without the clock's file the steps of the calendar are in the journal alone.
      const clockFault = time.fileFault();
      if (clockFault !== null && journal.lastSeq > 0) {
        tell(clockFault);
        for await (const entries of journal.read(1)) time.take(entries);
      }
      time.resume(journal.lastReceivedAt);
      return journal;
    },
    stop: (journal) => journal.close(),
    health(journal) {
      if (journal.ended !== null) return { state: "failed", text: "its thread has ended" };
      if (journal.trouble !== null) return { state: "failed", text: "the disk does not take it" };
      // Until the next start: somebody should look at the disk.
      return faults.length === 0 ? good : { state: "degraded", text: faults.join("; ") };
    },
  });
}
