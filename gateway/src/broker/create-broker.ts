import { gatewayTopic } from "@drumlin/firmware-protocol";
import type { Aedes } from "aedes";
import { createAdmission, queuedConnections } from "./admission.ts";
import type { Broker, BrokerComponents, BrokerOptions } from "./broker.ts";
import { type Connection, Connections } from "./connection.ts";
import { type Door, openDoor } from "./door.ts";
import { Intake } from "./intake.ts";
import { createAedes } from "./library.ts";
import { LoopTurns } from "./loop-turns.ts";
import { usualRate } from "./rate.ts";
import type { Shared } from "./shared.ts";
import { takeSocket } from "./sockets.ts";

const usualConnections = 5000;
/** More than wait in the listening socket's queue, so that a burst does not end one that is about to sign in. */
const usualUnknown = queuedConnections + 100;
/** Of thousands that come at once so many are looked at in a turn of the event loop, a millisecond: a good one waits a second. */
const connectsPerTurn = 4;
const appendTimeoutMs = 10_000;
const stopPatienceMs = 4000;

/** A disk that hangs must not look like a slow network: the client is let go and sends again elsewhere or later. */
function dropUnanswered({ components, connections }: Shared): void {
  const nowMs = components.now();
  for (const { answers, node, socket } of connections.open) {
    if (answers.pending === 0 || nowMs - answers.oldestPendingAtMs <= appendTimeoutMs) continue;
    components.onRefused("journal-not-writing", node, "No answer from the disk within 10 s.");
    socket.destroy();
  }
}

/** What waits for the disk is awaited, but not for ever: a hung disk must not keep the gateway from stopping. */
async function lastAnswers({ connections }: Shared): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const patience = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, stopPatienceMs);
  });
  await Promise.race([Promise.all([...connections.open].map(({ answers }) => answers.last())), patience]);
  clearTimeout(timer);
}

/** Starts the embedded MQTT 3.1.1 broker. A PUBACK is sent only after the journal has the pack on disk. */
export async function createBroker(components: BrokerComponents, options: BrokerOptions): Promise<Broker> {
  const { now, onRefused, room = () => null } = components;
  const { site, rate = usualRate, tls = null } = options;
  const bySocket = new WeakMap<object, Connection>();
  let stopping = false;
  const shared: Shared = {
    components,
    site,
    connections: new Connections(),
    intake: new Intake({
      rate,
      now,
      room,
      onTooFast: (node) => onRefused("rate-too-high", node, `${rate.packsPerSecond} packs a second`),
    }),
    turns: new LoopTurns(connectsPerTurn),
    connectionOf: (client) => bySocket.get(client.conn),
    isStopping: () => stopping,
  };
  const aedes = await createAedes(shared);
  const admission = createAdmission(
    { max: options.maxConnections ?? usualConnections, maxUnknown: options.maxUnknown ?? usualUnknown },
    (address) => onRefused("connections-too-many", null, address),
  );
  const door = await openDoor(
    {
      admission,
      onTlsFailed: (detail) => onRefused("tls-failed", null, detail),
      onSocket(socket) {
        bySocket.set(
          socket,
          takeSocket(shared, socket, (speaking) => aedes.handle(speaking)),
        );
      },
    },
    { host: options.host, port: options.port, tls },
  );
  shared.connections.onSignedIn = ({ socket }) => admission.know(socket);
  return embeddedBroker(shared, { aedes, door, end: () => (stopping = true) });
}

interface Parts {
  readonly aedes: Aedes;
  readonly door: Door;
  /** From here on new connections are refused. */
  readonly end: () => void;
}

function embeddedBroker(shared: Shared, { aedes, door, end }: Parts): Broker {
  const { components, site, connections, intake, isStopping } = shared;
  const watch = setInterval(() => {
    dropUnanswered(shared);
    intake.sweep();
  }, 1000);
  watch.unref();

  const tell = (topic: string, payload: string) =>
    aedes.publish(
      { cmd: "publish", topic, payload: Buffer.from(payload), qos: 0, retain: true, dup: false },
      () => {},
    );
  tell(gatewayTopic(site, "presence"), '{"state":"online"}');

  return {
    port: door.port(),
    tell,
    say: (topic, payload) =>
      new Promise((resolve) =>
        aedes.publish(
          { cmd: "publish", topic, payload: Buffer.from(payload), qos: 1, retain: false, dup: false },
          (error) => resolve(!error),
        ),
      ),
    ask(topic, payload) {
      aedes.publish(
        { cmd: "publish", topic, payload: Buffer.from(payload), qos: 0, retain: false, dup: false },
        () => {},
      );
      return "sent";
    },
    onConnected() {},
    // The embedded broker asks for each pack who may send it.
    useForeign() {},
    // Retained messages of the embedded broker live as long as it does.
    toldBefore: () => [],
    isConnected: () => true,
    trouble: () => null,
    refuses: () => null,
    connectedNodes: () => connections.nodes(),
    dropRevoked() {
      for (const { socket, node, secret } of connections.open) {
        if (node === null || components.credentials.inForce(node) === secret) continue;
        components.onRefused("secret-revoked", node, "Revoked or changed while the node was signed in.");
        socket.destroy();
      }
    },
    renew: (next) => door.renew(next),
    async stop() {
      if (isStopping()) return;
      end();
      clearInterval(watch);
      await lastAnswers(shared);
      for (const { socket } of connections.open) socket.destroy();
      await new Promise<void>((resolve) => aedes.close(() => resolve()));
      for (const { socket } of connections.open) socket.destroy();
      await door.close();
    },
  };
}
