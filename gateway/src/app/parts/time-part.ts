import type { Journal } from "../../journal/index.ts";
import type { ClockKeeper } from "../clock-keeper.ts";
import { definePart, type Giving, good, type Part } from "../parts.ts";
import type { RunningPath } from "./path-part.ts";

const tickEveryMs = 250;

/** Time for the path: the clock is compared with the machine's, and a deadline that passes with nothing arriving is journaled. */
export function timePart(time: ClockKeeper, journal: Giving<Journal>, path: Giving<RunningPath>): Part {
  let ticking: NodeJS.Timeout | undefined;
  let isUnderWay = false;

  function tick(): void {
    const deadlineMs = path.it.pipeline.nextDeadline();
    if (isUnderWay || deadlineMs === null || deadlineMs > time.clock.engineMs()) return;
    isUnderWay = true;
    journal.it
      .append({ kind: "tick" })
      // The journal's part says that it can't write; the deadline is still due at the next look.
      .catch(() => {})
      .finally(() => {
        isUnderWay = false;
      });
  }

  return definePart("clock", {
    start() {
      time.start(journal.it);
      ticking = setInterval(tick, tickEveryMs);
    },
    async stop() {
      clearInterval(ticking);
      await time.stop();
    },
    health() {
      const trouble = time.trouble();
      return trouble === null ? good : { state: "degraded", text: trouble };
    },
  });
}
