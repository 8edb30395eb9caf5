import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { documentOnce, type HeavyWork } from "../heavy-work.ts";
import { openMetricsText } from "../open-metrics.ts";
import { answerProblem } from "../refusal.ts";

/** Whether the gateway lives and is ready, its counters, and the API's document. */
export function healthRoutes(server: FastifyInstance, components: HttpComponents, work: HeavyWork): void {
  server.get("/healthz", async () => ({ alive: true }));
  server.get("/readyz", async (_request, reply) => {
    const why = components.notReady();
    if (why !== null) return answerProblem(reply, "not-ready", why);
    const degraded = components.degraded();
    return degraded.length === 0 ? { ready: true } : { ready: true, degraded };
  });
  server.get("/metrics", async (_request, reply) =>
    reply
      .type("application/openmetrics-text; version=1.0.0; charset=utf-8")
      .send(openMetricsText(components.metrics())),
  );
  const document = documentOnce(work);
  server.get("/api/docs", async (_request, reply) =>
    reply.type("application/json; charset=utf-8").send(await document()),
  );
}
