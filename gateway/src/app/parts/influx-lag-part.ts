import type { Journal } from "../../journal/index.ts";
import { worldCell, worldKey } from "../../readings/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving, type Part } from "../parts.ts";
import { createWorldFacts } from "../world-facts.ts";
import type { StartedInflux } from "./influx-part.ts";
import type { RunningPath } from "./path-part.ts";

const lookEveryMs = 5000;
const minuteMs = 60_000;

interface InfluxLagNeeds {
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly path: Giving<RunningPath>;
  readonly influx: Giving<StartedInflux>;
}

/** Steps in which minutes are said: each change is an entry of the journal. */
function stepOf(minutes: number): number {
  const step = minutes < 60 ? 5 : minutes < 1440 ? 60 : 1440;
  return Math.floor(minutes / step) * step;
}

/** Says in the journal for how many minutes InfluxDB has not had everything. */
export function influxLagPart({ clock, journal, path, influx }: InfluxLagNeeds): Part {
  const behindMs = () => influx.it.influx?.state().behindMs ?? 0;
  let timer: NodeJS.Timeout | undefined;
  return definePart("InfluxDB, how far behind", {
    start() {
      const world = createWorldFacts(journal.it, clock.engineMs);
      const fact = { part: "influx", fact: "behind-minutes" };
      const look = () => {
        // Without one, what an earlier run said is over.
        const value = stepOf(Math.floor(behindMs() / minuteMs));
        const stands = path.it.pipeline.board.get(worldCell, worldKey(fact))?.value ?? 0;
        if (value !== stands) world.say({ ...fact, value });
        world.look();
      };
      timer = setInterval(look, lookEveryMs);
    },
    stop: () => clearInterval(timer),
  });
}
