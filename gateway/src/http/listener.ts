import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { createServer as createTlsServer } from "node:https";
import { isPrivate } from "./addresses.ts";
import type { TlsFiles } from "./components.ts";

const mostConnections = 1000;
const headersWithinMs = 15_000;
const requestWithinMs = 30_000;

/** The door of the HTTP side: it listens on one address, and can move to another while requests go on. */
export interface Listener {
  readonly port: () => number;
  readonly host: () => string;
  /** Listens on another host with the same port; back on the old one when that fails, and throws. */
  move(host: string): Promise<void>;
  /** New certificate and key for new connections; nothing without TLS. */
  renew(tls: TlsFiles): void;
  stop(): Promise<void>;
}

/** Opens the door. Plain connections are taken only at a loopback or private address of this machine. */
export async function openListener(
  handle: (request: IncomingMessage, response: ServerResponse) => void,
  { host, port, tls }: { readonly host: string; readonly port: number; readonly tls: TlsFiles | null },
): Promise<Listener> {
  let current: { readonly server: Server; readonly host: string; readonly port: number };
  let inForce = tls;
  const leaving = new Set<Server>();

  function make(): Server {
    const timeouts = { headersTimeout: headersWithinMs, requestTimeout: requestWithinMs };
    const server = inForce
      ? createTlsServer({ ...inForce, ...timeouts, minVersion: "TLSv1.2", handshakeTimeout: 10_000 }, handle)
      : createServer(timeouts, handle);
    server.maxConnections = mostConnections;
    if (!inForce)
      server.on("connection", (socket) => {
        if (!isPrivate(socket.localAddress ?? "")) socket.destroy();
      });
    return server;
  }

  async function listen(atHost: string, atPort: number) {
    const server = make();
    await new Promise<void>((resolve, reject) => {
      server.once("error", reject);
      server.listen(atPort, atHost, () => {
        server.off("error", reject);
        resolve();
      });
    });
    const address = server.address();
    return { server, host: atHost, port: typeof address === "object" && address ? address.port : atPort };
  }

  current = await listen(host, port);
  return {
    port: () => current.port,
    host: () => current.host,
    async move(next) {
      const old = current;
      leaving.add(old.server);
      // The port is free at once; open connections go on until they end.
      old.server.close(() => leaving.delete(old.server));
      old.server.closeIdleConnections();
      try {
        current = await listen(next, old.port);
      } catch (error) {
        current = await listen(old.host, old.port);
        throw error;
      }
    },
    renew(next) {
      if (!inForce) return;
      inForce = next;
      (current.server as ReturnType<typeof createTlsServer>).setSecureContext({
        ...next,
        minVersion: "TLSv1.2",
      });
    },
    async stop() {
      for (const server of leaving) server.closeAllConnections();
      current.server.closeAllConnections();
      await new Promise<void>((resolve) => {
        current.server.close(() => resolve());
        current.server.closeAllConnections();
      });
    },
  };
}
