import type { FastifyInstance } from "fastify";
import { findFormulas, formulas } from "../../water/index.ts";
import { computeBodySchema } from "../bodies.ts";
import { formulaView } from "../formula-view.ts";
import { signedBy } from "../gate.ts";
import type { HeavyWork } from "../heavy-work.ts";
import { bodyOf, type Query } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** Every formula of the water chemistry by its name. */
export function computeRoutes(server: FastifyInstance, work: HeavyWork): void {
  let views: readonly ReturnType<typeof formulaView>[] | null = null;
  server.get<{ Querystring: Query }>("/api/compute", async (request) => {
    const find: unknown = request.query.find;
    views ??= formulas.map(formulaView);
    if (find === undefined) return { items: views, next: null };
    if (typeof find !== "string" || find.length > 100)
      throw new Refusal("query-not-understood", "find must be one text of up to 100 characters.");
    const ids = findFormulas(find).map(({ id }) => id);
    const byId = new Map(views.map((view) => [view.id, view]));
    return { items: ids.map((id) => byId.get(id)), next: null };
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
