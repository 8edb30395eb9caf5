import type { FastifyInstance } from "fastify";
import { type InfluxState, influxOutcomes } from "../../series/index.ts";
import type { HttpComponents } from "../components.ts";
import type { InfluxView } from "../contract.ts";
import { iso } from "../views.ts";

const nothing: InfluxState = {
  failure: null,
  sent: 0,
  failures: new Map(),
  aside: [],
  behind: { batches: 0, owed: 0, sinceMs: null },
  behindMs: 0,
};

function viewOf(influx: ReturnType<HttpComponents["influx"]>): InfluxView {
  const { failure, sent, behind, behindMs, aside } = influx?.state ?? nothing;
  return {
    server: influx?.server ?? null,
    failure: failure && {
      code: failure.code,
      title: influxOutcomes[failure.code].title,
      said: failure.said,
      todo: influxOutcomes[failure.code].todo,
    },
    sent,
    waiting: {
      batches: behind.batches,
      stretches: behind.owed,
      since: iso(behind.sinceMs),
      behindSeconds: Math.round(behindMs / 1000),
    },
    aside: aside.map(({ code, fromMs, toMs, measurement, points, example, said }) => ({
      code,
      title: influxOutcomes[code].title,
      todo: influxOutcomes[code].todo,
      measurement,
      points,
      from: iso(fromMs),
      to: iso(toMs),
      example,
      said,
    })),
  };
}

/** How sending to InfluxDB goes. */
export function influxRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get("/api/influx", async () => viewOf(components.influx()));
}
