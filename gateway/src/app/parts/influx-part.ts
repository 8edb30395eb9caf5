import {
  InfluxSeries,
  type InfluxState,
  type InfluxTarget,
  influxOutcomes,
  openInfluxSender,
  type SqliteSeries,
} from "../../series/index.ts";
import { isForOthers } from "../arrivals.ts";
import { steadyMs } from "../host-time.ts";
import { definePart, type Giving, good } from "../parts.ts";

/** Who looks at a chart waits no longer for an old stretch. */
const answersWithinMs = 3000;
/** A stop sends what is left for no longer; of its share it leaves so much, ms. */
const lastSendingMs = 2000;
const leftOfShareMs = 500;

interface InfluxPartNeeds {
  readonly target: InfluxTarget | null;
  readonly data: string;
  readonly series: Giving<SqliteSeries>;
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
  /** Ends, by `deadlineMs` of the steady time at the latest. */
  readonly stop: (deadlineMs: number) => Promise<void> | void;
}

const failureText = ({ code, said }: NonNullable<Pick<InfluxState, "failure">["failure"]>) =>
  `${influxOutcomes[code].title} (${said})`;

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
  return {
    influx: { far: new InfluxSeries(target, answersWithinMs), server, state: () => sender.state() },
    stop: (deadlineMs) => sender.stop(Math.min(steadyMs() + lastSendingMs, deadlineMs - leftOfShareMs)),
  };
}

/**
 * Sends what is stored on to InfluxDB; gives null where none is asked for. It stands before the path in the list of parts, and so
 * stops after it: once the path has stored its last rows, a stop sends them too.
 */
export function influxPart(needs: InfluxPartNeeds): Giving<StartedInflux> {
  return definePart<StartedInflux>("InfluxDB", {
    start: () => (needs.target ? start(needs.target, needs) : { influx: null, stop: () => {} }),
    stop: ({ stop }, deadlineMs) => stop(deadlineMs),
    health({ influx }) {
      const state = influx?.state();
      if (!state) return good;
      if (state.failure) return { state: "degraded", text: failureText(state.failure) };
      const points = state.aside.reduce((sum, one) => sum + one.points, 0);
      return points === 0 ? good : { state: "good", text: `${points} points were refused and set aside` };
    },
  });
}
