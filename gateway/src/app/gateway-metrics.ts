import type { Broker, RefusalCounts } from "../broker/index.ts";
import type { Metric } from "../http/index.ts";
import type { Journal } from "../journal/index.ts";
import type { NotificationDesk } from "../notifications/index.ts";
import type { InfluxState } from "../series/index.ts";
import type { LiveDriver } from "./live-driver.ts";
import type { PartHealth } from "./parts.ts";
import type { Pipeline } from "./pipeline.ts";
import type { NodeRequests } from "./requests/node-requests.ts";

/** What is counted since the start. */
export interface GatewayCounts {
  readings: number;
  rejections: number;
  repeats: number;
  storeFailures: number;
  entryFailures: number;
  unreadActs: number;
}

interface MetricSources {
  readonly health: () => readonly PartHealth[];
  readonly journal: Pick<Journal, "lastSeq" | "waiting" | "checkpointBytes" | "checkpointCount">;
  readonly driver: Pick<LiveDriver, "waitingRows" | "lastCopy">;
  readonly broker: Pick<Broker, "isConnected" | "connectedNodes">;
  readonly pipeline: Pick<Pipeline, "standing">;
  readonly counts: Readonly<GatewayCounts>;
  readonly notifications: Pick<NotificationDesk, "counts">;
  readonly requests: Pick<NodeRequests, "counts">;
  readonly refusals: Pick<RefusalCounts, "values">;
  /** Null where nothing is sent to InfluxDB. */
  readonly influx: InfluxState | null;
}

const one = (name: string, help: string, type: Metric["type"], value: number): Metric => ({
  name,
  help,
  type,
  samples: [{ value }],
});

function influxMetrics({ sent, aside, failures, behind, behindMs, failure }: InfluxState): readonly Metric[] {
  return [
    one("drumlin_influx_up", "1 while InfluxDB takes what is sent", "gauge", failure === null ? 1 : 0),
    one("drumlin_influx_points", "Points sent to InfluxDB since the start", "counter", sent),
    {
      name: "drumlin_influx_set_aside_points",
      help: "Points that InfluxDB refused for what they are, kept in the gateway's store only",
      type: "counter",
      samples: aside.map(({ code, measurement, points }) => ({
        labels: { code, measurement },
        value: points,
      })),
    },
    {
      name: "drumlin_influx_failures",
      help: "Calls of InfluxDB that failed since the start",
      type: "counter",
      samples: [...failures].map(([code, value]) => ({ labels: { code }, value })),
    },
    one("drumlin_influx_waiting_batches", "Batches that wait for InfluxDB", "gauge", behind.batches),
    one("drumlin_influx_owed_ranges", "Sealed stretches that wait for InfluxDB", "gauge", behind.owed),
    one(
      "drumlin_influx_behind_seconds",
      "For how long InfluxDB has not had everything",
      "gauge",
      Math.round(behindMs / 1000),
    ),
  ];
}

function checkpointMetrics({
  journal,
  driver,
}: Pick<MetricSources, "journal" | "driver">): readonly Metric[] {
  const { longestTurnMs, wholeMs } = driver.lastCopy();
  return [
    one("drumlin_checkpoints", "Checkpoints written since the start", "counter", journal.checkpointCount),
    one(
      "drumlin_checkpoint_bytes",
      "Bytes of rows that the last checkpoint wrote",
      "gauge",
      journal.checkpointBytes,
    ),
    one(
      "drumlin_checkpoint_pause_seconds",
      "The longest turn of the main thread that the last checkpoint took",
      "gauge",
      longestTurnMs / 1000,
    ),
    one(
      "drumlin_checkpoint_hold_seconds",
      "For how long the path waited for the last checkpoint",
      "gauge",
      wholeMs / 1000,
    ),
  ];
}

/** What was told to people, and what could not be. */
function messageMetrics(counts: ReturnType<NotificationDesk["counts"]>): readonly Metric[] {
  return [
    one("drumlin_messages_delivered", "Messages that were delivered", "counter", counts.sent),
    one("drumlin_messages_given_up", "Messages that were given up", "counter", counts.dropped),
    one("drumlin_messages_waiting", "Messages that are still to be delivered", "gauge", counts.waiting),
    one(
      "drumlin_outbox_overfull",
      "How often so much waited for one destination that what was due had to wait for room",
      "counter",
      counts.overfull,
    ),
    {
      name: "drumlin_destination_failing",
      help: "1 while a destination of messages can't be told anything",
      type: "gauge",
      samples: counts.destinations.map(({ id, isFailing }) => ({
        labels: { destination: id },
        value: isFailing ? 1 : 0,
      })),
    },
  ];
}

/** What nodes were asked, and what they answered. */
function requestMetrics({
  outcomes,
  useless,
  waiting,
}: ReturnType<NodeRequests["counts"]>): readonly Metric[] {
  return [
    {
      name: "drumlin_node_requests",
      help: "What nodes were asked since the start, and what became of it",
      type: "counter",
      samples: outcomes.map(({ kind, outcome, count }) => ({ labels: { kind, outcome }, value: count })),
    },
    {
      name: "drumlin_node_answers_without_effect",
      help: "Answers of nodes that came late, twice, of another start, or to nothing that was asked",
      type: "counter",
      samples: useless.map(({ why, count }) => ({ labels: { why }, value: count })),
    },
    one("drumlin_node_requests_waiting", "Requests that wait for an answer", "gauge", waiting),
  ];
}

/** The gateway's figures for `/metrics`. */
export function gatewayMetrics({
  journal,
  driver,
  broker,
  pipeline,
  counts,
  refusals,
  notifications,
  requests,
  health,
  influx,
}: MetricSources): readonly Metric[] {
  return [
    ...(influx ? influxMetrics(influx) : []),
    one("drumlin_journal_entries", "Entries of the journal", "counter", journal.lastSeq),
    one(
      "drumlin_journal_waiting_entries",
      "Entries that wait for the disk",
      "gauge",
      journal.waiting.entries,
    ),
    ...checkpointMetrics({ journal, driver }),
    one("drumlin_series_waiting_rows", "Rows that wait for the series store", "gauge", driver.waitingRows()),
    one(
      "drumlin_entry_failures",
      "Journal entries that could not be run since the start",
      "counter",
      counts.entryFailures,
    ),
    one(
      "drumlin_unread_acts",
      "Stored acts that this version can't read, passed over since the start",
      "counter",
      counts.unreadActs,
    ),
    one(
      "drumlin_series_failures",
      "Failed writes to the series store since the start",
      "counter",
      counts.storeFailures,
    ),
    one("drumlin_readings", "Readings taken since the start", "counter", counts.readings),
    one("drumlin_rejections", "Records and packs refused since the start", "counter", counts.rejections),
    one("drumlin_repeats", "Packs that came again since the start", "counter", counts.repeats),
    one(
      "drumlin_broker_connected",
      "1 while the broker can be spoken to, 0 while one of somebody else is away",
      "gauge",
      broker.isConnected() ? 1 : 0,
    ),
    one("drumlin_connected_nodes", "Nodes that are signed in", "gauge", broker.connectedNodes().length),
    {
      name: "drumlin_part_good",
      help: "1 while a part of the gateway is good, 0 while it is degraded or has failed",
      type: "gauge",
      samples: health().map(({ part, state }) => ({ labels: { part }, value: state === "good" ? 1 : 0 })),
    },
    ...messageMetrics(notifications.counts()),
    ...requestMetrics(requests.counts()),
    one("drumlin_alarms_standing", "Alarms not at rest", "gauge", pipeline.standing().length),
    {
      name: "drumlin_broker_refusals",
      help: "What the doors of MQTT and HTTP refused since the start",
      type: "counter",
      samples: refusals.values().map(({ code, node, count }) => ({
        labels: { code, node: node ?? "" },
        value: count,
      })),
    },
  ];
}
