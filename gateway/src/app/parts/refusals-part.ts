import type { RefusalCounts } from "../../broker/index.ts";
import type { Logbook } from "../../logbook/index.ts";
import { definePart, type Giving, type Part } from "../parts.ts";

const keepEveryMs = 10_000;

/** Counts of what the doors refused, kept in the logbook: a page shows them after a restart as before. */
export function refusalsPart(refusals: RefusalCounts, logbook: Giving<Logbook>): Part {
  let timer: NodeJS.Timeout | undefined;

  function keep(): void {
    try {
      refusals.keep((counts) => logbook.it.keepRefusals(counts));
    } catch {
      // A full disk: tried again with the next turn, and other parts say so.
    }
  }

  return definePart("refusals", {
    start() {
      refusals.begin(logbook.it.refusalsAtTheDoor());
      timer = setInterval(keep, keepEveryMs);
    },
    stop() {
      clearInterval(timer);
      keep();
    },
  });
}
