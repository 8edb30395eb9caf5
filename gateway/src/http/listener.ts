import type { IncomingMessage, Server, ServerResponse } from "node:http";
import { createServer as createTlsServer } from "node:https";
import type { Socket } from "node:net";
import type { Duplex } from "node:stream";
import { createAdmission, LoopTurns, queuedConnections } from "../broker/index.ts";
import { isPrivate } from "./addresses.ts";
import { createAnswersBudget } from "./answers-budget.ts";
import type { TlsFiles } from "./components.ts";
import { type ProblemCode, problems } from "./problems.ts";
import { protectAnswer, securityHeaders } from "./security-headers.ts";

// An import of `node:http` reads all of its exports, and one of them loads Node's whole web client: 16 MB and 60 ms.
const { createServer, STATUS_CODES } = process.getBuiltinModule("node:http");

/** Connections in all, and of nobody who is signed in; more than wait in the listening socket's queue. */
const maxConnections = 2000;
const maxUnknown = queuedConnections + 100;
const headersWithinMs = 15_000;
const requestWithinMs = 30_000;
const sweepEveryMs = 1000;
/** Requests that are begun in one turn of the event loop: some ms. */
const requestsPerTurn = 8;

/** The door of the HTTP side: it listens on one address, and can move to another while requests go on. */
export interface Listener {
  readonly port: () => number;
  readonly host: () => string;
  /** Somebody is known on this connection: it is never ended to make room. */
  know(socket: Socket): void;
  /** Listens on another host with the same port; back on the old one when that fails, and throws. */
  move(host: string): Promise<void>;
  /** New certificate and key for new connections; nothing without TLS. */
  renew(tls: TlsFiles): void;
  stop(): Promise<void>;
}

interface ListenerOptions {
  readonly host: string;
  readonly port: number;
  readonly tls: TlsFiles | null;
  /** Time that only goes on, ms. */
  readonly elapsedMs: () => number;
  /** Told what was refused before any request was seen. */
  readonly onRefused: (code: ProblemCode, detail: string) => void;
}

/** What Node's parser found wrong, under our names. */
const parserFaults: Readonly<Record<string, ProblemCode>> = {
  HPE_HEADER_OVERFLOW: "headers-too-long",
  ERR_HTTP_REQUEST_TIMEOUT: "request-too-slow",
};
/** The other side has gone: nothing was refused. */
const goneCodes = new Set(["ECONNRESET", "EPIPE", "ETIMEDOUT", "ECONNABORTED"]);

/** Answers a request that could not be read, counted under its name, and ends its connection. */
function refuseUnread(
  error: Error & { readonly code?: string },
  socket: Duplex,
  isTls: boolean,
  onRefused: ListenerOptions["onRefused"],
): void {
  if (goneCodes.has(error.code ?? "") || !socket.writable) {
    socket.destroy();
    return;
  }
  const code = parserFaults[error.code ?? ""] ?? "request-broken";
  onRefused(code, error.message.slice(0, 200));
  const { status, title } = problems[code];
  const body = JSON.stringify({ type: `/api/docs#${code}`, title, status, code, detail: error.message });
  const headers = {
    ...securityHeaders(isTls),
    "cache-control": "no-store",
    "content-type": "application/problem+json",
    "content-length": String(Buffer.byteLength(body)),
    connection: "close",
  };
  const head = Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`);
  socket.end(`HTTP/1.1 ${status} ${STATUS_CODES[status]}\r\n${head.join("")}\r\n${body}`);
}

const leastTls = "TLSv1.2";

function makeServer(
  tls: TlsFiles | null,
  serve: (request: IncomingMessage, response: ServerResponse) => void,
): Server {
  const timeouts = { headersTimeout: headersWithinMs, requestTimeout: requestWithinMs };
  return tls
    ? createTlsServer({ ...tls, ...timeouts, minVersion: leastTls, handshakeTimeout: 10_000 }, serve)
    : createServer(timeouts, serve);
}

/** Resolves with the port once the server listens; rejects when it can't. */
async function listening(server: Server, host: string, port: number): Promise<number> {
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen({ port, host, backlog: queuedConnections }, () => {
      server.off("error", reject);
      resolve();
    });
  });
  const address = server.address();
  return typeof address === "object" && address ? address.port : port;
}

/** Opens the door. Plain connections are taken only at a loopback or private address of this machine. */
export async function openListener(
  handle: (request: IncomingMessage, response: ServerResponse) => void,
  { host, port, tls, elapsedMs, onRefused }: ListenerOptions,
): Promise<Listener> {
  let current: { readonly server: Server; readonly host: string; readonly port: number };
  let inForce = tls;
  const leaving = new Set<Server>();
  const admission = createAdmission({ max: maxConnections, maxUnknown }, (address) =>
    onRefused("connections-too-many", address),
  );
  const budget = createAnswersBudget(onRefused);
  const turns = new LoopTurns(requestsPerTurn);
  const sweeping = setInterval(() => budget.sweep(elapsedMs()), sweepEveryMs);
  sweeping.unref();

  function serve(request: IncomingMessage, response: ServerResponse): void {
    const { socket } = request;
    if (!budget.begin(socket, response)) return;
    protectAnswer(response, request.url ?? "", inForce !== null);
    admission.setBusy(socket, true);
    response.once("close", () => admission.setBusy(socket, false));
    // Hundreds that come at once take turns with packs and with each other.
    turns.take(() => {
      if (!response.destroyed) handle(request, response);
    });
  }

  async function listen(atHost: string, atPort: number) {
    const server = makeServer(inForce, serve);
    server.on("connection", (socket) => {
      if (!inForce && !isPrivate(socket.localAddress ?? "")) socket.destroy();
      else admission.enter(socket);
    });
    server.on("clientError", (error, socket) => refuseUnread(error, socket, inForce !== null, onRefused));
    return { server, host: atHost, port: await listening(server, atHost, atPort) };
  }

  current = await listen(host, port);
  return {
    port: () => current.port,
    host: () => current.host,
    know: admission.know,
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
        minVersion: leastTls,
      });
    },
    async stop() {
      clearInterval(sweeping);
      for (const server of leaving) server.closeAllConnections();
      current.server.closeAllConnections();
      await new Promise<void>((resolve) => {
        current.server.close(() => resolve());
        current.server.closeAllConnections();
      });
    },
  };
}
