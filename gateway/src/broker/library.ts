import type { EventEmitter } from "node:events";
import { Aedes, type Client } from "aedes";
import { writeToStream } from "mqtt-packet";
import { createConnecting } from "./connecting.ts";
import { faultName } from "./connection-faults.ts";
import { mayHear } from "./permissions.ts";
import { createPublishing, laneOf } from "./publishing.ts";
import type { Shared } from "./shared.ts";

const connectWithinMs = 10_000;
const drainWithinMs = 10_000;
const maxFilters = 16;
/** As many as the library can match: topics with fewer are refused by name, and the node stays connected. */
const maxTopicLevels = 100;
const longestClientId = 200;

/** Filters: a node's own requests, and what the gateway tells; at most 16 a connection. */
function subscribing({ components, site, connectionOf }: Shared) {
  return (client: Client, filter: string): boolean => {
    const connection = connectionOf(client);
    if (!connection) return false;
    if (!mayHear(site, connection.node, filter)) {
      components.onRefused("filter-not-yours", connection.node, filter.slice(0, 200));
      return false;
    }
    if (connection.filters.size >= maxFilters && !connection.filters.has(filter)) {
      components.onRefused("filters-too-many", connection.node, filter.slice(0, 200));
      return false;
    }
    connection.filters.add(filter);
    return true;
  };
}

/**
 * Nobody may hear what nodes publish (`mayHear`): it is over once it is acknowledged. The library would look for
 * subscriptions, retained messages and sessions of each pack, at several times its cost so far.
 */
function endUnheard(aedes: Aedes): void {
  const publish = aedes.publish.bind(aedes) as (packet: unknown, client: unknown, done?: unknown) => void;
  aedes.publish = ((packet: unknown, client: unknown, done?: (error?: Error) => void) => {
    if (typeof client === "object" && client !== null) done?.();
    else publish(packet, client, done);
  }) as Aedes["publish"];
}

/** The broker library with every question that it asks answered by name. */
export async function createAedes(shared: Shared): Promise<Aedes> {
  const connecting = createConnecting(shared);
  const takePublish = createPublishing(shared);
  const mayList = subscribing(shared);
  const { components, site, connectionOf } = shared;
  // It would keep a buffer for each of the 65,536 numbers that a packet can have: 7 MB.
  writeToStream.cacheNumbers = false;
  const aedes = await Aedes.createBroker({
    connectTimeout: connectWithinMs,
    drainTimeout: drainWithinMs,
    maxTopicLevels,
    maxClientsIdLength: longestClientId,
    preConnect: connecting.before,
    authenticate: connecting.authenticate,
    authorizePublish: takePublish,
    authorizeSubscribe(client, subscription, callback) {
      callback(null, mayList(client, subscription.topic) ? subscription : null);
    },
    // Looked at again for each message: what may be heard must not hang on how a subscription came about.
    authorizeForward: (client, packet) =>
      mayHear(site, connectionOf(client)?.node ?? null, packet.topic) ? packet : null,
  });
  endUnheard(aedes);
  const onFault = (client: Client, error: Error) => {
    const code = faultName(error);
    const connection = connectionOf(client);
    if (code) components.onRefused(code, connection?.node ?? null, error.message.slice(0, 200));
  };
  aedes.on("clientError", onFault);
  aedes.on("connectionError", onFault);
  // A will that its look at old ones was not let through ends there, not the process.
  (aedes as EventEmitter).on("error", () => {});
  // What came in one piece with the CONNECT is taken first: the library does so when this event is over.
  aedes.on("clientReady", (client) =>
    setImmediate(() => {
      const connection = connectionOf(client);
      const lane = connection && laneOf(shared, client, connection);
      if (lane) connection.guard.useLane(lane);
      connection?.guard.answered();
    }),
  );
  aedes.on("unsubscribe", (filters, client) => {
    for (const filter of filters) connectionOf(client)?.filters.delete(filter);
  });
  return aedes;
}
