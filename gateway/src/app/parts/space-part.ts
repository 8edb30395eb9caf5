import { join } from "node:path";
import type { Journal } from "../../journal/index.ts";
import type { SqliteSeries } from "../../series/index.ts";
import { ballastAt } from "../ballast.ts";
import { diskSpaceOf } from "../disk-space.ts";
import { definePart, type Giving, type Part } from "../parts.ts";
import { ballastBytes, createSpaceKeeper } from "../space-keeper.ts";

const lookEveryMs = 10_000;

interface SpacePartNeeds {
  readonly data: string;
  readonly journal: Giving<Journal>;
  readonly series: Giving<SqliteSeries>;
  readonly log: (message: string) => void;
}

/** Looks whether the disk runs short of space, and lets go of what may go. */
export function spacePart({ data, journal, series, log }: SpacePartNeeds): Part {
  let timer: NodeJS.Timeout | undefined;
  const path = join(data, "ballast");
  return definePart("space", {
    start() {
      const keeper = createSpaceKeeper({
        disk: () => diskSpaceOf(data),
        ballast: ballastAt(path, ballastBytes),
        journal: journal.it,
        series: series.it,
        log,
      });
      let isLooking = false;
      timer = setInterval(() => {
        if (isLooking) return;
        isLooking = true;
        keeper
          .look()
          .catch((error: unknown) => log(`disk: ${String(error)}`))
          .finally(() => {
            isLooking = false;
          });
      }, lookEveryMs);
    },
    stop: () => clearInterval(timer),
  });
}
