import type { Accounts } from "../../accounts/index.ts";
import type { Broker, createRefusalCounts } from "../../broker/index.ts";
import { createHttp, type HttpComponents } from "../../http/index.ts";
import { type Journal, JournalError } from "../../journal/index.ts";
import type { Line } from "../../line/index.ts";
import type { Logbook } from "../../logbook/index.ts";
import { type SeriesStore, withInflux } from "../../series/index.ts";
import type { ClockKeeper } from "../clock-keeper.ts";
import type { DerivationJobs } from "../derivation-job.ts";
import { gatewayMetrics } from "../gateway-metrics.ts";
import type { GatewayOptions } from "../gateway-options.ts";
import { alarmTurned } from "../in-calendar.ts";
import { LineFileDesk } from "../line-file.ts";
import { monitorPages } from "../monitor-pages.ts";
import { nightLines, nightReport } from "../night-report.ts";
import { definePart, type Giving, type Parts } from "../parts.ts";
import type { StartedInflux } from "./influx-part.ts";
import type { RunningNotifications } from "./notifications-part.ts";
import type { RunningPath } from "./path-part.ts";
import type { RunningRequests } from "./requests-part.ts";

/** A new line waits no longer for the disk before whoever saved it is answered. */
const lineWithinMs = 8000;

interface HttpPartNeeds {
  readonly options: Pick<
    GatewayOptions,
    "lineFile" | "http" | "tls" | "plainHttp" | "signedIn" | "log" | "outsideBroker" | "mqttTls"
  >;
  readonly time: ClockKeeper;
  readonly journal: Giving<Journal>;
  readonly series: Giving<SeriesStore>;
  readonly logbook: Giving<Logbook>;
  readonly accounts: Giving<Accounts>;
  readonly path: Giving<RunningPath>;
  readonly derivation: Giving<DerivationJobs>;
  readonly broker: Giving<Broker>;
  readonly influx: Giving<StartedInflux>;
  readonly notifications: Giving<RunningNotifications>;
  readonly requests: Giving<RunningRequests>;
  readonly refusals: ReturnType<typeof createRefusalCounts>;
  readonly parts: () => Parts;
}

/** The page's and the API's door, and what stands behind it. */
export interface RunningHttp {
  readonly http: Awaited<ReturnType<typeof createHttp>>;
  readonly lineFile: LineFileDesk;
  readonly standing: HttpComponents["standing"];
}

/** Journals a line; rejects by name when the disk does not take it in time. */
async function journalLine(journal: Journal, yaml: string): Promise<void> {
  const late = Promise.withResolvers<never>();
  const timer = setTimeout(
    () =>
      late.reject(
        new JournalError("journal-failed", "The file is saved; it comes into force once the disk takes it."),
      ),
    lineWithinMs,
  );
  const written = journal.append({ kind: "line", yaml });
  written.catch(() => {});
  await Promise.race([written, late.promise]).finally(() => clearTimeout(timer));
}

function lineFileOf({ options, time, journal, path, derivation, broker }: HttpPartNeeds) {
  const { pipeline, driver } = path.it;
  return new LineFileDesk({
    path: options.lineFile ?? null,
    inForce: () => pipeline.yaml() ?? "",
    site: (pipeline.line() as Line).site,
    now: time.clock.nowMs,
    assigned: (channel) =>
      void derivation.it
        .afterAssigned(channel)
        .catch((error: unknown) => options.log(`derive: ${String(error)}`)),
    async apply(yaml) {
      await journalLine(journal.it, yaml);
      driver.catchUp();
      broker.it.useForeign((pipeline.line()?.foreign ?? []).map(({ topic }) => topic));
    },
  });
}

function componentsOf(
  needs: HttpPartNeeds,
  { lineFile, standing }: Pick<RunningHttp, "lineFile" | "standing">,
): HttpComponents {
  const { options, time, refusals, parts } = needs;
  const [journal, logbook, broker] = [needs.journal.it, needs.logbook.it, needs.broker.it];
  const { pipeline, driver, live, counts, desk } = needs.path.it;
  const { influx } = needs.influx.it;
  return {
    lineView: () => live.lineView(),
    line: () => pipeline.line(),
    lineFile,
    mqtt: () => ({
      port: options.outsideBroker ? null : broker.port,
      tls: Boolean(options.mqttTls),
      broker: options.outsideBroker ? new URL(options.outsideBroker.url).host : null,
    }),
    standing,
    alarmChanges: (limit, before) => logbook.alarmChanges(limit, before),
    alarmChangesIn: (fromMs, toMs) => logbook.alarmChangesIn(fromMs, toMs),
    alarmChangesAfter: (seq, limit) => logbook.alarmChangesAfter(seq, limit),
    actsOf: (type, limit, before) => logbook.actsOf(type, limit, before),
    fills: (asked) => logbook.fills(asked),
    fill: (id) => logbook.fill(id),
    night: (date) => {
      const line = pipeline.line();
      return line && nightReport(logbook, line, date, time.clock.nowMs());
    },
    nights: (asked) => {
      const line = pipeline.line();
      return line ? nightLines(logbook, line, time.clock.nowMs(), asked) : [];
    },
    proofs: (limit, before) => logbook.proofs(limit, before),
    records: (kind, limit, before) => logbook.page(kind, limit, before),
    rejections: () => [...refusals.values(), ...logbook.rejections()],
    series: influx
      ? withInflux(needs.series.it, influx.far, () => influx.state().failure === null)
      : needs.series.it,
    influx: () => influx && { server: influx.server, state: influx.state() },
    derivation: {
      askSince: (fromMs, by) => needs.derivation.it.askSince(fromMs, by),
      state: () => needs.derivation.it.state(),
    },
    act: (given, by) => desk.give(given, by),
    acts: (limit, before) => logbook.acts(limit, before),
    askNode: (node, asked) => needs.requests.it.requests.ask(node, asked),
    accounts: needs.accounts.it,
    notifications: needs.notifications.it.desk,
    subscribe: (listener) => live.subscribe(listener),
    lastSeq: () => driver.takenSeq(),
    degraded: () => parts().degraded(),
    notReady: () => parts().notReady(),
    metrics: () =>
      gatewayMetrics({
        journal,
        driver,
        broker,
        pipeline,
        counts,
        refusals,
        notifications: needs.notifications.it.desk,
        requests: needs.requests.it.requests,
        influx: influx?.state() ?? null,
        health: () => parts().health(),
      }),
    now: time.clock.nowMs,
    elapsedMs: time.clock.engineMs,
  };
}

/** The page and the API. */
export function httpPart(needs: HttpPartNeeds): Giving<RunningHttp> {
  const { options, time, path } = needs;
  return definePart("HTTP", {
    async start() {
      const lineFile = lineFileOf(needs);
      const standing = () => path.it.pipeline.standing().map((alarm) => alarmTurned(alarm, time.calendar.at));
      const http = await createHttp(componentsOf(needs, { lineFile, standing }), {
        host: options.http.host,
        port: options.http.port,
        pages: monitorPages(),
        tls: options.tls ?? null,
        plainHttp: options.plainHttp === true,
        signedIn: options.signedIn ?? null,
        log: options.log,
        onRefused: (code, detail) => needs.refusals.note(code, null, detail),
      });
      return { http, lineFile, standing };
    },
    stop: ({ http }) => http.stop(),
  });
}
