import { createRefusalCounts } from "../broker/index.ts";
import { noteLineChanges } from "../http/index.ts";
import { createClockKeeper } from "./clock-keeper.ts";
import type { Gateway, GatewayOptions } from "./gateway-options.ts";
import { accountsPart } from "./parts/accounts-part.ts";
import { brokerPart } from "./parts/broker-part.ts";
import { checkpointPart } from "./parts/checkpoint-part.ts";
import { derivationPart } from "./parts/derivation-part.ts";
import { httpPart } from "./parts/http-part.ts";
import { influxLagPart } from "./parts/influx-lag-part.ts";
import { influxPart } from "./parts/influx-part.ts";
import { journalPart } from "./parts/journal-part.ts";
import { logbookPart } from "./parts/logbook-part.ts";
import { notificationsPart } from "./parts/notifications-part.ts";
import { outputsPart } from "./parts/outputs-part.ts";
import { pathPart } from "./parts/path-part.ts";
import { refusalsPart } from "./parts/refusals-part.ts";
import { requestsPart } from "./parts/requests-part.ts";
import { seriesPart } from "./parts/series-part.ts";
import { spacePart } from "./parts/space-part.ts";
import { timePart } from "./parts/time-part.ts";
import { worldPart } from "./parts/world-part.ts";
import { createParts, type Parts } from "./parts.ts";
import { byCommandLine } from "./with-accounts.ts";

/** The parts of a gateway, each on those before it; they stop in reverse. */
function partsOf(options: GatewayOptions) {
  const { data, log, retention, onFatal = () => {}, onThread = () => {} } = options;
  const time = createClockKeeper({ folder: data, log, ...(options.host ? { host: options.host } : {}) });
  const { clock } = time;
  const refusals = createRefusalCounts(clock.nowMs);
  const all = (): Parts => parts;
  const journal = journalPart({
    data,
    time,
    log,
    onEnded: (why) =>
      onFatal(
        `The journal's thread has ended (${why}): nothing can be stored any more. What was acknowledged is on disk. Start the gateway again.`,
      ),
    // The store starts after the journal, and before the first checkpoint.
    takeIn: (service, data) => series.it.takeIn(service, data),
    onThread: (worker) => onThread("journal", worker),
  });
  const series = seriesPart({
    data,
    clock,
    journal,
    retention,
    log,
    onThread: (worker) => onThread("series", worker),
  });
  const logbook = logbookPart(data, clock, journal, log);
  const accounts = accountsPart(data, clock, journal, log);
  const path = pathPart({ options, time, journal, series, logbook });
  const derivation = derivationPart({ data, time, journal, series, logbook, path, log });
  const influx = influxPart({ target: options.influx ?? null, data, series, log });
  const broker = brokerPart({ options, clock, journal, accounts, path, refusals });
  const requests = requestsPart({ clock, journal, path, broker });
  const common = { options, time, journal, series, logbook, accounts, path, broker, parts: all };
  const notifications = notificationsPart(common);
  const http = httpPart({ ...common, derivation, influx, notifications, requests, refusals });
  const parts = createParts(
    [
      journal,
      series,
      logbook,
      refusalsPart(refusals, logbook),
      accounts,
      influx,
      path,
      derivation,
      influxLagPart({ clock, journal, path, influx }),
      checkpointPart(path, journal, log),
      spacePart({ data, journal, series, log }),
      timePart(time, journal, path),
      broker,
      requests,
      worldPart({ data, clock, journal, path, broker, health: () => all().health() }),
      notifications,
      http,
      outputsPart(path, broker, http),
    ],
    log,
  );
  return { parts, accounts, broker, http };
}

/**
 * Starts a gateway on a data folder: it goes on where it stopped, then opens its doors. Throws PartFailed when a part
 * can't start, with the others undone.
 */
export async function startGateway(options: GatewayOptions): Promise<Gateway> {
  const { parts, accounts, broker, http } = partsOf(options);
  await parts.start();
  const { people, newSetUpCode } = accounts.it;
  return {
    httpPort: http.it.http.port,
    mqttPort: broker.it.port,
    setUpCode: options.signedIn || people.exist() ? null : newSetUpCode(),
    renewTls: (tls) => http.it.http.renew(tls),
    renewMqttTls: (tls) => broker.it.renew(tls),
    async reloadLine() {
      const result = await http.it.lineFile.reload();
      if (result.ok) noteLineChanges(accounts.it, byCommandLine, result.changes);
      options.log(result.ok ? "line: read again" : `line: the old one stays in force. ${result.message}`);
    },
    notReady: () => parts.notReady(),
    stop: () => parts.stop(),
  };
}
