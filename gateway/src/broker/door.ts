import { createServer, type Server, type Socket } from "node:net";
import { createServer as createTlsServer } from "node:tls";
import { type Admission, queuedConnections } from "./admission.ts";
import type { BrokerTls } from "./broker.ts";

const handshakeWithinMs = 10_000;
const minVersion = "TLSv1.2";

/** Where connections come in: TCP, or TLS on top of it. */
export interface Door {
  readonly port: () => number;
  renew(tls: BrokerTls): void;
  close(): Promise<void>;
}

interface DoorComponents {
  readonly admission: Admission;
  /** Gets each connection that is ready to be spoken on. */
  readonly onSocket: (socket: Socket) => void;
  readonly onTlsFailed: (detail: string) => void;
}

/** Opens the door: a connection is counted from its TCP connect on, so that a handshake that never ends has no place of its own. */
export async function openDoor(
  { admission, onSocket, onTlsFailed }: DoorComponents,
  { host, port, tls }: { readonly host: string; readonly port: number; readonly tls: BrokerTls | null },
): Promise<Door> {
  const open = new Set<Socket>();
  const tlsServer = tls
    ? createTlsServer({ ...tls, minVersion, handshakeTimeout: handshakeWithinMs }, onSocket)
    : null;
  tlsServer?.on("tlsClientError", (error, socket) => {
    onTlsFailed(error.message);
    socket.destroy();
  });
  const server: Server = createServer((socket) => {
    socket.on("error", () => socket.destroy());
    if (!admission.enter(socket)) return;
    if (!tlsServer) {
      onSocket(socket);
      return;
    }
    open.add(socket);
    socket.once("close", () => open.delete(socket));
    tlsServer.emit("connection", socket);
  });
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen({ port, host, backlog: queuedConnections }, () => {
      server.off("error", reject);
      resolve();
    });
  });
  return {
    port() {
      const address = server.address();
      return typeof address === "object" && address ? address.port : port;
    },
    renew(next) {
      tlsServer?.setSecureContext({ ...next, minVersion });
    },
    async close() {
      for (const socket of open) socket.destroy();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
