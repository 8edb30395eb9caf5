import { existsSync } from "node:fs";
import fastifyCompress from "@fastify/compress";
import fastifyStatic from "@fastify/static";
import fastify, { type FastifyInstance, type FastifyRequest } from "fastify";
import { byOf, originOf } from "../accounts/index.ts";
import { isLoopback } from "./addresses.ts";
import { answerError } from "./answer-error.ts";
import type { HttpComponents, HttpOptions } from "./components.ts";
import { createGate, type Gate, whoAsked } from "./gate.ts";
import { createHeavyWork, type HeavyWork } from "./heavy-work.ts";
import { readJsonBodies } from "./json-body.ts";
import { openListener } from "./listener.ts";
import { pagesOptions } from "./pages-options.ts";
import { answerProblem, Refusal } from "./refusal.ts";
import { accountsRoutes } from "./routes/accounts.ts";
import { actRoutes } from "./routes/acts.ts";
import { alarmsRoutes } from "./routes/alarms.ts";
import { auditRoutes } from "./routes/audit.ts";
import { computeRoutes } from "./routes/compute.ts";
import { derivationRoutes } from "./routes/derivation.ts";
import { fillsRoutes } from "./routes/fills.ts";
import { healthRoutes } from "./routes/health.ts";
import { influxRoutes } from "./routes/influx.ts";
import { lineRoutes } from "./routes/line.ts";
import { liveRoutes } from "./routes/live.ts";
import { nightsRoutes } from "./routes/nights.ts";
import { nodesRoutes } from "./routes/nodes.ts";
import { notificationsRoutes } from "./routes/notifications.ts";
import { peopleRoutes } from "./routes/people.ts";
import { recordsRoutes } from "./routes/records.ts";
import { seriesRoutes } from "./routes/series.ts";
import { shareMainThread } from "./share-main-thread.ts";
import { createUnderWay } from "./under-way.ts";

/** Live streams among them: a person with twenty pages open has twenty. */
const maxRequestsOfAsker = 100;

/** Throws where what is asked for would let strangers in, or be read on the way without anybody having said so. */
function requireSafe({ host, signedIn = null, tls = null, plainHttp = false }: HttpOptions): void {
  if (!isLoopback(host) && signedIn)
    throw new Error(`Without signing in HTTP listens on loopback only: ${host} is refused.`);
  if (!isLoopback(host) && tls === null && !plainHttp)
    throw new Error(
      `HTTP on ${host} needs --tls-cert and --tls-key, or --plain-http for a private network, on purpose.`,
    );
}

/** Asks of each request who sends it, and how many of theirs are under way; `known` is told of those that may go on. */
function admitRequests(
  server: FastifyInstance,
  gate: Gate,
  askerOf: (request: FastifyRequest) => string,
  known: (request: FastifyRequest) => void,
): void {
  const underWay = createUnderWay(maxRequestsOfAsker);
  server.addHook("onRequest", async (request, reply) => {
    gate.check(request, reply);
    known(request);
    const asker = askerOf(request);
    if (!underWay.begin(asker)) {
      reply.header("retry-after", "1");
      throw new Refusal("requests-too-many", `${maxRequestsOfAsker} requests are under way.`);
    }
    reply.raw.once("close", () => underWay.end(asker));
  });
}

/** Puts every call in its place; gives the way to end the streams. */
function routeAll(
  server: FastifyInstance,
  components: HttpComponents,
  {
    work,
    gate,
    accounts,
  }: {
    readonly work: HeavyWork;
    readonly gate: Gate;
    readonly accounts: HttpOptions & { readonly plain: () => boolean };
  },
): () => void {
  healthRoutes(server, components, work);
  lineRoutes(server, components, work);
  seriesRoutes(server, components);
  alarmsRoutes(server, components);
  fillsRoutes(server, components);
  actRoutes(server, components);
  notificationsRoutes(server, components);
  computeRoutes(server, work);
  nightsRoutes(server, components);
  nodesRoutes(server, components);
  influxRoutes(server, components);
  derivationRoutes(server, components);
  accountsRoutes(server, components, gate, accounts);
  peopleRoutes(server, components);
  auditRoutes(server, components);
  recordsRoutes(server, components);
  return liveRoutes(server, components, gate);
}

const noCompiler = (): never => {
  throw new Error("Routes read with zod: fastify's own schemas are not loaded.");
};
/** Without these fastify loads two compilers of schemas at its start, which no route uses. */
const noSchemas = {
  compilersFactory: { buildValidator: () => noCompiler, buildSerializer: () => noCompiler },
};

/**
 * Starts the HTTP side. Until the first account exists it listens on loopback only, then on the asked host.
 * Throws when that is no loopback address and there is neither TLS nor `plainHttp`.
 */
export async function createHttp(components: HttpComponents, options: HttpOptions) {
  const { accounts } = components;
  const { host, signedIn = null, tls = null, log = () => {}, onRefused = () => {} } = options;
  requireSafe(options);
  const work = createHeavyWork();
  const gate = createGate(components, options);
  const server = fastify({
    bodyLimit: 64 * 1024,
    routerOptions: { maxParamLength: 200 },
    schemaController: noSchemas,
    // Such as an address that can't be decoded: it never gets as far as the error handler.
    frameworkErrors: (error, _request, reply) => answerProblem(reply, "query-not-understood", error.message),
  });

  server.setErrorHandler((error: Error, request, reply) => answerError(error, request, reply, log));
  readJsonBodies(server);
  server.setNotFoundHandler((request, reply) =>
    answerProblem(reply, "not-found", `${request.method} ${request.url.slice(0, 200)}`),
  );
  // Answers that are made anew are packed fast; pages lie packed already.
  await server.register(fastifyCompress, { encodings: ["gzip"], threshold: 1024, zlibOptions: { level: 4 } });
  const askerOf = (request: FastifyRequest) => {
    const who = whoAsked(request);
    return who ? byOf(who) : originOf(request.ip);
  };
  admitRequests(server, gate, askerOf, (request) => {
    const who = whoAsked(request);
    if (who && who !== signedIn) listener.know(request.raw.socket);
  });
  shareMainThread(server, askerOf, components.elapsedMs);
  const pages = options.pages !== null && existsSync(options.pages) ? options.pages : null;
  let own = true;
  server.addHook("onRoute", ({ method, url }) => {
    if (own) for (const one of [method].flat()) gate.requireKnown(one, url);
  });

  const endStreams = routeAll(server, components, {
    work,
    gate,
    accounts: { ...options, plain: () => tls === null && !isLoopback(listener.host()) },
  });
  own = false;

  if (pages !== null) await server.register(fastifyStatic, pagesOptions(pages));
  await server.ready();

  const mayOpen = () => isLoopback(host) || accounts.people.exist();
  const listener = await openListener((request, response) => server.routing(request, response), {
    host: mayOpen() ? host : "127.0.0.1",
    port: options.port,
    tls,
    elapsedMs: components.elapsedMs,
    onRefused,
  });
  let moving = !mayOpen();
  accounts.onChange(() => {
    if (!moving || !mayOpen()) return;
    moving = false;
    listener.move(host).then(
      () => log(`http: the first account exists, now listening on ${host}:${listener.port()}`),
      (error: unknown) => log(`http: still on loopback only: ${String(error)}`),
    );
  });
  return {
    port: listener.port(),
    renew: listener.renew,
    async stop(): Promise<void> {
      moving = false;
      endStreams();
      work.stop();
      await listener.stop();
      await server.close();
    },
  };
}
