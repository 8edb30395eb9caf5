import type { Accounts } from "../../accounts/index.ts";
import {
  type Broker,
  createBroker,
  type createRefusalCounts,
  openOutsideBroker,
} from "../../broker/index.ts";
import type { Journal } from "../../journal/index.ts";
import { type Line, nodeOf } from "../../line/index.ts";
import type { Clock } from "../clock.ts";
import type { GatewayOptions } from "../gateway-options.ts";
import { steadyMs } from "../host-time.ts";
import { definePart, type Giving, good } from "../parts.ts";
import type { RunningPath } from "./path-part.ts";

interface BrokerPartNeeds {
  readonly options: Pick<
    GatewayOptions,
    "outsideBroker" | "mqtt" | "mqttTls" | "rate" | "onTakenOver" | "log"
  >;
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly accounts: Giving<Accounts>;
  readonly path: Giving<RunningPath>;
  readonly refusals: ReturnType<typeof createRefusalCounts>;
}

const nobody: ReadonlySet<string> = new Set();

/** Nodes onto whose channels the line maps a topic of another protocol. */
function foreignNodesOf(line: Line | null, topic: string): ReadonlySet<string> {
  if (!line || line.foreign.length === 0) return nobody;
  const mapped = line.foreign.filter((one) => one.topic === topic);
  return new Set(mapped.map(({ channel }) => nodeOf(channel)));
}

function openBroker({ options, clock, journal, accounts, path, refusals }: BrokerPartNeeds): Promise<Broker> {
  const { outsideBroker, mqtt, mqttTls = null, rate, onTakenOver, log } = options;
  const { pipeline, driver } = path.it;
  const line = pipeline.line() as Line;
  const common = { journal: journal.it, onRefused: refusals.note, room: () => driver.room() };
  if (!outsideBroker)
    return createBroker(
      {
        ...common,
        credentials: accounts.it.nodes,
        now: clock.engineMs,
        foreignNodes: (topic) => foreignNodesOf(pipeline.line(), topic),
      },
      { site: line.site, host: mqtt.host, port: mqtt.port, tls: mqttTls, ...(rate ? { rate } : {}) },
    );
  return openOutsideBroker(
    {
      ...common,
      log,
      steadyMs,
      onTakenOver(why) {
        log(`broker: ${why}; this one stops`);
        onTakenOver?.();
      },
    },
    {
      ...outsideBroker,
      site: line.site,
      instance: journal.it.instance,
      startedAtMs: clock.nowMs(),
      foreignTopics: line.foreign.map(({ topic }) => topic),
    },
  );
}

/** MQTT: the embedded broker, or one of somebody else. */
export function brokerPart(needs: BrokerPartNeeds): Giving<Broker> {
  return definePart("MQTT", {
    async start() {
      const broker = await openBroker(needs);
      needs.accounts.it.onChange(() => broker.dropRevoked());
      return broker;
    },
    stop: (broker) => broker.stop(),
    health(broker) {
      const text = broker.trouble();
      return text === null ? good : { state: "degraded", text };
    },
  });
}
