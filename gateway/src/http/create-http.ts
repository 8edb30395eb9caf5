import { existsSync } from "node:fs";
import fastifyStatic from "@fastify/static";
import fastify from "fastify";
import { AccountError } from "../accounts/index.ts";
import { isLoopback } from "./addresses.ts";
import type { HttpComponents, HttpOptions } from "./components.ts";
import { createGate } from "./gate.ts";
import { openListener } from "./listener.ts";
import { type ProblemCode, problems } from "./problems.ts";
import { answerProblem, Refusal } from "./refusal.ts";
import { accountsRoutes } from "./routes/accounts.ts";
import { alarmsRoutes } from "./routes/alarms.ts";
import { auditRoutes } from "./routes/audit.ts";
import { computeRoutes } from "./routes/compute.ts";
import { enteredRoutes } from "./routes/entered.ts";
import { fillsRoutes } from "./routes/fills.ts";
import { healthRoutes } from "./routes/health.ts";
import { lineRoutes } from "./routes/line.ts";
import { liveRoutes } from "./routes/live.ts";
import { nodesRoutes } from "./routes/nodes.ts";
import { peopleRoutes } from "./routes/people.ts";
import { seriesRoutes } from "./routes/series.ts";

/**
 * Starts the HTTP side. Until the first account exists it listens on loopback only, then on the asked host.
 * Throws when that is no loopback address and there is neither TLS nor `plainHttp`.
 */
export async function createHttp(components: HttpComponents, options: HttpOptions) {
  const { accounts } = components;
  const { host, signedIn = null, tls = null, plainHttp = false, log = () => {} } = options;
  if (!isLoopback(host) && signedIn)
    throw new Error(`Without signing in HTTP listens on loopback only: ${host} is refused.`);
  if (!isLoopback(host) && tls === null && !plainHttp)
    throw new Error(
      `HTTP on ${host} needs --tls-cert and --tls-key, or --plain-http for a private network, on purpose.`,
    );
  const gate = createGate(components, options);
  const server = fastify({
    bodyLimit: 64 * 1024,
    routerOptions: { maxParamLength: 200 },
    // Such as an address that can't be decoded: it never gets as far as the error handler.
    frameworkErrors: (error, _request, reply) => answerProblem(reply, "query-not-understood", error.message),
  });

  server.setErrorHandler((error: Error & { code?: string; statusCode?: number }, _request, reply) => {
    if (error instanceof Refusal) return answerProblem(reply, error.code, error.message);
    if (error instanceof AccountError) {
      if (error.retryAfterS !== null) reply.header("retry-after", String(error.retryAfterS));
      return answerProblem(reply, error.code, error.message);
    }
    if (error.code === "FST_ERR_CTP_BODY_TOO_LARGE")
      return answerProblem(reply, "body-too-large", error.message);
    if (error.code === "FST_ERR_CTP_INVALID_MEDIA_TYPE")
      return answerProblem(reply, "not-json", error.message);
    if (error.statusCode !== undefined && error.statusCode < 500)
      return answerProblem(reply, "body-not-understood", error.message);
    if (error.code !== undefined && error.code in problems)
      return answerProblem(reply, error.code as ProblemCode, error.message);
    return answerProblem(reply, "internal", "See the gateway's log.");
  });
  server.setNotFoundHandler((request, reply) =>
    answerProblem(reply, "not-found", `${request.method} ${request.url.slice(0, 200)}`),
  );
  server.addHook("onRequest", async (request, reply) => {
    reply.headers({
      "x-content-type-options": "nosniff",
      "referrer-policy": "no-referrer",
      "content-security-policy":
        "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; frame-ancestors 'none'",
    });
    gate.check(request, reply);
  });
  const pages = options.pages !== null && existsSync(options.pages) ? options.pages : null;
  let own = true;
  server.addHook("onRoute", ({ method, url }) => {
    if (own) for (const one of [method].flat()) gate.requireKnown(one, url);
  });

  healthRoutes(server, components);
  lineRoutes(server, components);
  seriesRoutes(server, components);
  alarmsRoutes(server, components);
  fillsRoutes(server, components);
  enteredRoutes(server, components);
  computeRoutes(server);
  nodesRoutes(server, components);
  const endStreams = liveRoutes(server, components, gate);
  accountsRoutes(server, components, gate, {
    ...options,
    plain: () => tls === null && !isLoopback(listener.host()),
  });
  peopleRoutes(server, components);
  auditRoutes(server, components);
  own = false;

  if (pages !== null) await server.register(fastifyStatic, { root: pages, cacheControl: true, maxAge: 0 });
  await server.ready();

  const mayOpen = () => isLoopback(host) || accounts.people.exist();
  const listener = await openListener((request, response) => server.routing(request, response), {
    host: mayOpen() ? host : "127.0.0.1",
    port: options.port,
    tls,
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
      await listener.stop();
      await server.close();
    },
  };
}
