import type { FastifyInstance } from "fastify";
import { formulas } from "../../water/index.ts";
import { computeBodySchema } from "../bodies.ts";
import { formulaView } from "../formula-view.ts";
import { signedBy } from "../gate.ts";
import type { HeavyWork } from "../heavy-work.ts";
import { bodyOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** Every formula of the water chemistry by its name. */
export function computeRoutes(server: FastifyInstance, work: HeavyWork): void {
  let views: readonly ReturnType<typeof formulaView>[] | null = null;
  server.get("/api/compute", async () => {
    views ??= formulas.map(formulaView);
    return { items: views, next: null };
  });
  server.post<{ Params: { formula: string } }>("/api/compute/:formula", async (request) => {
    const inputs = bodyOf(computeBodySchema, request.body);
    const computed = await work.run(signedBy(request), {
      kind: "compute",
      formula: request.params.formula,
      inputs,
    });
    if (!computed.ok) throw new Refusal(computed.code, computed.message);
    return { formula: request.params.formula, values: computed.values, units: computed.units };
  });
}
