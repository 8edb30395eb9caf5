import { createServer, type Server, type Socket } from "node:net";
import { createServer as createTlsServer } from "node:tls";
import { gatewayTopic, nodeTopic, parseTopic } from "@drumlin/firmware-protocol";
import { Aedes, type AuthenticateError, type Client } from "aedes";
import type { NodeCredentials } from "../accounts/index.ts";
import type { Journal } from "../journal/index.ts";
import { type FrameGuard, guardFrames } from "./frame-guard.ts";
import { Allowance, type RateLimits, usualRate } from "./rate.ts";
import type { BrokerRefusalCode } from "./refusals.ts";

const longestPayload = 64 * 1024;
const appendTimeoutMs = 10_000;
const stopPatienceMs = 4000;
/** Packs of one client that may wait for the disk before it is held back. */
const mostPendingOfClient = 400;
/** Wrong sign-ins in the window, of one name from one address, and of all names from it (many nodes may share one). */
const wrongOfNameAllowed = 10;
const wrongOfAddressAllowed = 200;
const wrongSignInWindowMs = 60_000;
const mostOrigins = 10_000;

/** What the broker needs. */
export interface BrokerComponents {
  readonly journal: Pick<Journal, "append" | "trouble">;
  readonly credentials: Pick<NodeCredentials, "verify" | "inForce">;
  readonly now: () => number;
  /** Told of each refusal, with the node where it is known. */
  readonly onRefused: (code: BrokerRefusalCode, node: string | null, detail: string) => void;
  /** Nodes onto whose channels the line maps a topic of another protocol. */
  readonly foreignNodes?: (topic: string) => ReadonlySet<string>;
  /** Null while there is room; else resolves when there is again (the rest of the path is behind). */
  readonly room?: () => Promise<void> | null;
}

/** Certificate (with its chain) and key, PEM. */
export interface BrokerTls {
  readonly cert: string;
  readonly key: string;
}

export interface BrokerOptions {
  readonly site: string;
  readonly host: string;
  readonly port: number;
  /** Certificate and key, PEM; null listens without TLS. */
  readonly tls?: BrokerTls | null;
  readonly rate?: RateLimits;
}

/** The parts of a packet that are looked at, and may be taken out of circulation. */
type PublishedPacket = Pick<
  Parameters<NonNullable<Aedes["authorizePublish"]>>[1],
  "topic" | "payload" | "qos" | "retain"
>;

interface Connection {
  readonly guard: FrameGuard;
  readonly address: string;
  node: string | null;
  /** What tells the secret it signed in with from every other one. */
  secret: string | null;
  allowance: Allowance;
  pending: number;
  oldestPendingAtMs: number;
  last: Promise<void>;
}

export interface Broker {
  /** The port it listens on. */
  readonly port: number;
  /** False while a broker of somebody else is away. */
  isConnected(): boolean;
  connectedNodes(): readonly string[];
  /** Ends the connection of every node whose secret is no longer the one it signed in with. */
  dropRevoked(): void;
  /** Tells other programs something under the gateway's own topics, retained; "" takes it away. */
  tell(topic: string, payload: string): void;
  /** Retained topics of the gateway that an earlier run left there. */
  toldBefore(): readonly string[];
  /** Told each time that the broker can be spoken to again; never by the embedded one. */
  onConnected(listener: () => void): void;
  /** Topics of other protocols that the line maps now. */
  useForeign(topics: readonly string[]): void;
  /** New certificate and key for new connections; nothing without TLS. */
  renew(tls: BrokerTls): void;
  /** Refuses new connections, waits for what is being written, closes. */
  stop(): Promise<void>;
}

function signInError(returnCode: 2 | 3 | 4 | 5, message: string): AuthenticateError {
  return Object.assign(new Error(message), { returnCode }) as AuthenticateError;
}

/** Starts the embedded MQTT 3.1.1 broker. A PUBACK is sent only after the journal has the pack on disk. */
export async function createBroker(components: BrokerComponents, options: BrokerOptions): Promise<Broker> {
  const { journal, credentials, now, onRefused, room = () => null } = components;
  const { site, rate = usualRate } = options;
  const connections = new WeakMap<object, Connection>();
  const open = new Set<Connection & { readonly socket: Socket }>();
  const wrongSignIns = new Map<string, number[]>();
  let stopping = false;

  function connectionOf(client: Client): Connection | undefined {
    return connections.get(client.conn);
  }

  function wrongLately(origin: string): number {
    const times = (wrongSignIns.get(origin) ?? []).filter((time) => now() - time < wrongSignInWindowMs);
    if (times.length === 0) wrongSignIns.delete(origin);
    else wrongSignIns.set(origin, times);
    return times.length;
  }

  function noteWrong(address: string, name: string): void {
    for (const origin of [`${address} ${name}`, address]) {
      const times = wrongSignIns.get(origin) ?? [];
      // Moved to the end: what is dropped first when the table is full is the origin that has been quiet longest.
      wrongSignIns.delete(origin);
      if (wrongSignIns.size >= mostOrigins) wrongSignIns.delete(wrongSignIns.keys().next().value as string);
      wrongSignIns.set(origin, [...times, now()].slice(-wrongOfAddressAllowed));
    }
  }

  const broker = await Aedes.createBroker({
    connectTimeout: 10_000,
    drainTimeout: 10_000,
    maxTopicLevels: 8,
    preConnect(client, packet, callback) {
      const connection = connectionOf(client);
      if (stopping || !connection) return callback(signInError(3, "The gateway is stopping."), false);
      const { address } = connection;
      if (
        wrongLately(`${address} ${packet.username ?? ""}`) >= wrongOfNameAllowed ||
        wrongLately(address) >= wrongOfAddressAllowed
      ) {
        onRefused("sign-in-too-often", null, address);
        return callback(signInError(5, "Too many wrong sign-ins."), false);
      }
      callback(null, true);
    },
    authenticate(client, username, password, callback) {
      // A disk that takes nothing: a node that keeps its packs until there is room loses none of them.
      if (journal.trouble !== null)
        return callback(signInError(3, "Nothing can be stored now: try again later."), false);
      const connection = connectionOf(client);
      const node = username ?? "";
      const secret = credentials.inForce(node);
      const check = password ? credentials.verify(node, password) : Promise.resolve(false);
      check.then(
        (wasRight) => {
          // Revoked or changed while it was checked: then it is no longer right.
          const right = wasRight && credentials.inForce(node) === secret;
          // The broker's own table of clients; it is not in its types.
          const { clients } = broker as unknown as { readonly clients: Readonly<Record<string, Client>> };
          const other = Object.hasOwn(clients, client.id) ? clients[client.id] : undefined;
          const takenByOther = other !== undefined && connectionOf(other)?.node !== node;
          if (right && connection && !takenByOther) {
            connection.node = node;
            connection.secret = secret;
            connection.guard.signedIn();
            callback(null, true);
            return;
          }
          if (connection && !right) noteWrong(connection.address, node);
          onRefused(
            "sign-in-refused",
            node || null,
            takenByOther ? `The client id ${client.id} is another node's.` : "The name or secret is wrong.",
          );
          callback(signInError(takenByOther ? 2 : 4, "Sign-in refused."), false);
        },
        () => callback(signInError(3, "Sign-in is not possible now."), false),
      );
    },
    authorizePublish(client, packet, callback) {
      takePublish(client, packet, callback);
    },
    authorizeSubscribe(client, subscription, callback) {
      const node = connectionOf(client)?.node;
      const own =
        node !== null &&
        node !== undefined &&
        (subscription.topic === nodeTopic(site, node, "request") ||
          // What the gateway tells is for every program that may sign in; it says nothing secret.
          subscription.topic.startsWith(gatewayTopic(site, "")));
      callback(null, own ? subscription : null);
    },
    authorizeForward: (_client, packet) => packet,
  });

  /** Lets a refused message through to nobody: acknowledged, since 3.1.1 has no other answer that does not bring it again. */
  function refuse(
    packet: PublishedPacket,
    node: string | null,
    code: BrokerRefusalCode,
    detail: string,
  ): void {
    onRefused(code, node, detail);
    packet.topic = `$refused/${node ?? "unknown"}`;
    packet.retain = false;
    packet.payload = Buffer.alloc(0);
  }

  function takePublish(
    client: Client | null,
    packet: PublishedPacket,
    callback: (error?: Error | null) => void,
  ): void {
    const connection = client ? connectionOf(client) : undefined;
    const node = connection?.node ?? null;
    const payload = typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
    const topic = parseTopic(packet.topic);
    // A will can come when its client is gone; only a presence can be one.
    const owned =
      topic.ok &&
      topic.site === site &&
      topic.kind !== "request" &&
      (client ? topic.node === node : topic.kind === "presence");
    const mapped =
      client !== null && node !== null && (components.foreignNodes?.(packet.topic).has(node) ?? false);
    let written: Promise<unknown> = Promise.resolve();
    if (!owned && !mapped) refuse(packet, node, "topic-not-yours", packet.topic.slice(0, 200));
    else if (packet.qos === 2) refuse(packet, node, "qos-2-not-taken", packet.topic);
    else if (payload.length > longestPayload)
      refuse(packet, node, "payload-too-long", `${payload.length} bytes`);
    else written = journal.append({ kind: "message", topic: packet.topic, payload });
    if (connection) answerInOrder(connection, written, payload.length, callback);
    else written.then(() => callback(), callback);
  }

  /** Answers once written and once every earlier packet of the connection has its answer; refused ones count too. */
  function answerInOrder(
    connection: Connection,
    written: Promise<unknown>,
    bytes: number,
    callback: (error?: Error | null) => void,
  ): void {
    if (connection.pending === 0) connection.oldestPendingAtMs = now();
    connection.pending += 1;
    const earlier = connection.last;
    connection.last = written
      .then(() => earlier)
      .then(
        () => {
          connection.pending -= 1;
          connection.oldestPendingAtMs = now();
          callback();
          if (connection.pending < mostPendingOfClient / 2 && !waitingForTime.has(connection))
            connection.guard.release();
        },
        (error: unknown) => {
          connection.pending -= 1;
          onRefused(
            "journal-not-writing",
            connection.node,
            error instanceof Error ? error.message : String(error),
          );
          // No PUBACK: the connection ends, and the node sends again.
          callback(error instanceof Error ? error : new Error(String(error)));
        },
      );
    const holdMs = connection.allowance.take(bytes, now());
    const behind = room();
    if (holdMs > 0 || behind) holdBack(connection, holdMs, behind);
    else if (connection.pending >= mostPendingOfClient) connection.guard.hold();
  }

  const waitingForTime = new Set<Connection>();
  function holdBack(connection: Connection, holdMs: number, behind: Promise<void> | null): void {
    if (waitingForTime.has(connection)) return;
    waitingForTime.add(connection);
    connection.guard.hold();
    const over = () => {
      waitingForTime.delete(connection);
      connection.guard.release();
    };
    setTimeout(() => (behind ? void behind.then(over) : over()), holdMs);
  }

  const takeSocket = (socket: Socket): void => {
    if (stopping) {
      socket.destroy();
      return;
    }
    socket.setNoDelay(true);
    const guard = guardFrames(socket, (bytes) =>
      onRefused("frame-too-long", connection.node, `${bytes} bytes`),
    );
    const connection = {
      socket,
      guard,
      address: socket.remoteAddress ?? "",
      node: null as string | null,
      secret: null as string | null,
      allowance: new Allowance(rate, now()),
      pending: 0,
      oldestPendingAtMs: 0,
      last: Promise.resolve(),
    };
    connections.set(socket, connection);
    open.add(connection);
    socket.on("close", () => open.delete(connection));
    socket.on("error", () => socket.destroy());
    broker.handle(socket);
  };
  const { tls = null } = options;
  const tlsServer = tls
    ? createTlsServer({ ...tls, minVersion: "TLSv1.2", handshakeTimeout: 10_000 }, takeSocket)
    : null;
  tlsServer?.on("tlsClientError", (error, socket) => {
    onRefused("tls-failed", null, error.message);
    socket.destroy();
  });
  const server: Server = tlsServer ?? createServer(takeSocket);
  server.maxConnections = 5000;

  // A disk that hangs must not look like a slow network: the client is let go and sends again elsewhere or later.
  const watch = setInterval(() => {
    for (const connection of open) {
      if (connection.pending > 0 && now() - connection.oldestPendingAtMs > appendTimeoutMs) {
        onRefused("journal-not-writing", connection.node, "No answer from the disk within 10 s.");
        connection.socket.destroy();
      }
    }
  }, 1000);
  watch.unref();

  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(options.port, options.host, () => {
      server.off("error", reject);
      resolve();
    });
  });
  broker.publish(
    {
      cmd: "publish",
      topic: gatewayTopic(site, "presence"),
      payload: Buffer.from('{"state":"online"}'),
      qos: 0,
      retain: true,
      dup: false,
    },
    () => {},
  );
  const address = server.address();
  const port = typeof address === "object" && address ? address.port : options.port;

  return {
    port,
    tell(topic, payload) {
      broker.publish(
        { cmd: "publish", topic, payload: Buffer.from(payload), qos: 0, retain: true, dup: false },
        () => {},
      );
    },
    onConnected() {},
    // The embedded broker asks for each pack who may send it.
    useForeign() {},
    // Retained messages of the embedded broker live as long as it does.
    toldBefore: () => [],
    isConnected: () => true,
    connectedNodes: () => [...new Set([...open].flatMap(({ node }) => (node ? [node] : [])))],
    dropRevoked() {
      for (const { socket, node, secret } of open) {
        if (node === null || credentials.inForce(node) === secret) continue;
        onRefused("secret-revoked", node, "Revoked or changed while the node was signed in.");
        socket.destroy();
      }
    },
    renew(next) {
      tlsServer?.setSecureContext({ ...next, minVersion: "TLSv1.2" });
    },
    async stop() {
      if (stopping) return;
      stopping = true;
      clearInterval(watch);
      // What waits for the disk is awaited, but not for ever: a hung disk must not keep the gateway from stopping.
      let timer: NodeJS.Timeout | undefined;
      const patience = new Promise<void>((resolve) => {
        timer = setTimeout(resolve, stopPatienceMs);
      });
      await Promise.race([Promise.all([...open].map(({ last }) => last)), patience]);
      clearTimeout(timer);
      for (const { socket } of open) socket.destroy();
      await new Promise<void>((resolve) => broker.close(() => resolve()));
      for (const { socket } of open) socket.destroy();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
