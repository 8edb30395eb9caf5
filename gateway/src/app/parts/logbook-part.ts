import type { Journal } from "../../journal/index.ts";
import { type Logbook, openLogbook } from "../../logbook/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving } from "../parts.ts";
import { createRenewal } from "./renewal.ts";

/** Acts, alarms, fills and lines of the data folder. */
export function logbookPart(
  data: string,
  clock: Clock,
  journal: Giving<Journal>,
  log: (message: string) => void,
): Giving<Logbook> {
  const renewal = createRenewal("logbook.sqlite", log);
  return definePart("logbook", {
    start() {
      const logbook = openLogbook({
        folder: data,
        nowMs: clock.nowMs(),
        hasLived: journal.it.lastSeq > 0,
        beforeRenewal: (fault) => renewal.before(journal.it, fault),
      });
      journal.it.passOver(logbook.storedSeq() ?? 0);
      return logbook;
    },
    stop: (logbook) => logbook.close(),
    health: renewal.health,
  });
}
