import { existsSync } from "node:fs";
import fastifyStatic from "@fastify/static";
import fastify from "fastify";
import type { HttpComponents, HttpOptions } from "./components.ts";
import { type ProblemCode, problems } from "./problems.ts";
import { answerProblem, Refusal } from "./refusal.ts";
import { alarmsRoutes } from "./routes/alarms.ts";
import { computeRoutes } from "./routes/compute.ts";
import { healthRoutes } from "./routes/health.ts";
import { lineRoutes } from "./routes/line.ts";
import { liveRoutes } from "./routes/live.ts";
import { nodesRoutes } from "./routes/nodes.ts";
import { seriesRoutes } from "./routes/series.ts";

function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^127(\.\d{1,3}){3}$/.test(host);
}

/** Starts the HTTP side on a loopback address; another address is refused until accounts exist. */
export async function createHttp(components: HttpComponents, options: HttpOptions) {
  if (!isLoopback(options.host))
    throw new Error(`HTTP listens on loopback only until accounts exist: ${options.host} is refused.`);
  const server = fastify({
    bodyLimit: 64 * 1024,
    forceCloseConnections: true,
    routerOptions: { maxParamLength: 200 },
    // Such as an address that can't be decoded: it never gets as far as the error handler.
    frameworkErrors: (error, _request, reply) => answerProblem(reply, "query-not-understood", error.message),
  });

  server.setErrorHandler((error: Error & { code?: string; statusCode?: number }, _request, reply) => {
    if (error instanceof Refusal) return answerProblem(reply, error.code, error.message);
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
    // A page of another name that resolves to this machine must not read it.
    if (!isLoopback(request.hostname.replace(/^\[|\]$/g, "")))
      throw new Refusal("host-not-allowed", request.hostname.slice(0, 100));
    if (request.method === "GET" || request.method === "HEAD") return;
    const { origin } = request.headers;
    if (origin !== undefined && origin !== `http://${request.headers.host}`)
      throw new Refusal("origin-not-allowed", origin.slice(0, 100));
  });

  healthRoutes(server, components);
  lineRoutes(server, components);
  seriesRoutes(server, components);
  alarmsRoutes(server, components);
  computeRoutes(server);
  nodesRoutes(server, components);
  const endStreams = liveRoutes(server, components);

  if (options.pages !== null && existsSync(options.pages))
    await server.register(fastifyStatic, { root: options.pages, cacheControl: true, maxAge: 0 });

  await server.listen({ host: options.host, port: options.port });
  const address = server.server.address();
  return {
    port: typeof address === "object" && address ? address.port : options.port,
    async stop(): Promise<void> {
      endStreams();
      await server.close();
    },
  };
}
