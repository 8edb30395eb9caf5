import type { FastifyInstance } from "fastify";
import { compute, formulas } from "../../water/index.ts";
import { computeBodySchema } from "../bodies.ts";
import { formulaView } from "../formula-view.ts";
import { bodyOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** Every formula of the water chemistry by its name. */
export function computeRoutes(server: FastifyInstance): void {
  server.get("/api/compute", async () => ({ items: formulas.map(formulaView), next: null }));
  server.post<{ Params: { formula: string } }>("/api/compute/:formula", async (request) => {
    const body = bodyOf(computeBodySchema, request.body);
    const computed = compute(request.params.formula, body);
    if (!computed.ok) throw new Refusal(computed.code, computed.message);
    return { formula: request.params.formula, values: computed.values, units: computed.units };
  });
}
