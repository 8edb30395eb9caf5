import type { Journal } from "../../journal/index.ts";
import { worldCell, worldKey } from "../../readings/index.ts";
import {
  InfluxSeries,
  type InfluxState,
  type InfluxTarget,
  influxOutcomes,
  openInfluxSender,
  type SqliteSeries,
} from "../../series/index.ts";
import { isForOthers } from "../arrivals.ts";
import type { Clock } from "../clock.ts";
import { steadyMs } from "../host-time.ts";
import { definePart, type Giving, good } from "../parts.ts";
import { createWorldFacts } from "../world-facts.ts";
import type { RunningPath } from "./path-part.ts";

/** Who looks at a chart waits no longer for an old stretch. */
const answersWithinMs = 3000;
const lookEveryMs = 5000;
const minuteMs = 60_000;

interface InfluxPartNeeds {
  readonly target: InfluxTarget | null;
  readonly data: string;
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly series: Giving<SqliteSeries>;
  readonly path: Giving<RunningPath>;
  readonly log: (message: string) => void;
}

/** What is sent to InfluxDB, and read from it. */
interface RunningInflux {
  readonly far: InfluxSeries;
  /** Address and database, without a secret. */
  readonly server: string;
  readonly state: () => InfluxState;
}

/** The running part; `influx` null where none is asked for. */
export interface StartedInflux {
  readonly influx: RunningInflux | null;
  readonly stop: () => Promise<void> | void;
}

const failureText = ({ code, said }: NonNullable<Pick<InfluxState, "failure">["failure"]>) =>
  `${influxOutcomes[code].title} (${said})`;

/** Steps in which minutes are said: each change is an entry of the journal. */
function stepOf(minutes: number): number {
  const step = minutes < 60 ? 5 : minutes < 1440 ? 60 : 1440;
  return Math.floor(minutes / step) * step;
}

async function start(target: InfluxTarget, needs: InfluxPartNeeds): Promise<StartedInflux> {
  const { data, series, log } = needs;
  const server = `${target.url}/${target.database}`;
  function say(failure: InfluxState["failure"]): void {
    if (failure)
      log(
        `InfluxDB at ${server}: ${influxOutcomes[failure.code].title} (${failure.said}). ${influxOutcomes[failure.code].todo} Meanwhile everything is stored here.`,
      );
    else log(`InfluxDB at ${server}: it takes what is sent again`);
  }
  const sender = await openInfluxSender({
    target,
    log: series.it.log,
    range: (name, fromMs, toMs) => series.it.range(name, fromMs, toMs),
    isSent: isForOthers,
    folder: data,
    steadyMs,
    onChange: say,
  });
  const stopLooking = tellHowFarBehind(() => sender.state().behindMs, needs);
  return {
    influx: { far: new InfluxSeries(target, answersWithinMs), server, state: () => sender.state() },
    async stop() {
      stopLooking();
      await sender.stop();
    },
  };
}

/** Says in the journal for how many minutes InfluxDB has not had everything; gives the way to stop. */
function tellHowFarBehind(
  behindMs: () => number,
  { journal, path, clock }: Pick<InfluxPartNeeds, "journal" | "path" | "clock">,
): () => void {
  const world = createWorldFacts(journal.it, clock.engineMs);
  const fact = { part: "influx", fact: "behind-minutes" };
  const look = () => {
    const value = stepOf(Math.floor(behindMs() / minuteMs));
    const stands = path.it.pipeline.board.get(worldCell, worldKey(fact))?.value ?? 0;
    if (value !== stands) world.say({ ...fact, value });
    world.look();
  };
  const timer = setInterval(look, lookEveryMs);
  return () => clearInterval(timer);
}

/** Sends what is stored on to InfluxDB; gives null where none is asked for. */
export function influxPart(needs: InfluxPartNeeds): Giving<StartedInflux> {
  return definePart<StartedInflux>("InfluxDB", {
    // Without one, what an earlier run said is over.
    start: () =>
      needs.target ? start(needs.target, needs) : { influx: null, stop: tellHowFarBehind(() => 0, needs) },
    stop: ({ stop }) => stop(),
    health({ influx }) {
      const state = influx?.state();
      if (!state) return good;
      if (state.failure) return { state: "degraded", text: failureText(state.failure) };
      const points = state.aside.reduce((sum, one) => sum + one.points, 0);
      return points === 0 ? good : { state: "good", text: `${points} points were refused and set aside` };
    },
  });
}
