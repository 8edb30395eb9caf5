import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { type Query, timeOf, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { fillView, proofView } from "../views.ts";

/** Where a page of fills goes on: behind one fill, "1795690230801 ID"; a time alone is before it. */
function afterOf(after: string): { readonly beforeMs: number; readonly beforeId?: string } {
  const [, time = after, beforeId] = /^(\d+) (.+)$/.exec(after) ?? [];
  const beforeMs = timeOf(time, 0, "after");
  return beforeId === undefined ? { beforeMs } : { beforeMs, beforeId };
}

/** Fills of the drums, and tests of their floats. */
export function fillsRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get<{ Querystring: Query }>("/api/fills", async (request) => {
    const { drum, after, from, to } = request.query;
    const limit = wholeOf("limit", request.query.limit, { otherwise: 200, min: 1, max: 1000 });
    const items = components.fills({
      limit,
      ...(drum === undefined ? {} : { drum }),
      ...(from === undefined ? {} : { fromMs: timeOf(from, 0, "from") }),
      ...(after === undefined ? (to === undefined ? {} : { beforeMs: timeOf(to, 0, "to") }) : afterOf(after)),
    });
    const last = items.at(-1);
    return {
      items: items.map(fillView),
      next: items.length === limit && last ? `${last.startedAtMs} ${last.id}` : null,
    };
  });
  server.get<{ Params: { id: string } }>("/api/fills/:id", async (request) => {
    const fill = components.fill(request.params.id);
    if (!fill) throw new Refusal("no-such-fill", request.params.id.slice(0, 100));
    return fillView(fill);
  });

  server.get<{ Querystring: Query }>("/api/proof-tests", async (request) => {
    const limit = wholeOf("limit", request.query.limit, { otherwise: 200, min: 1, max: 1000 });
    const { after } = request.query;
    const before =
      after === undefined
        ? undefined
        : wholeOf("after", after, { otherwise: 0, min: 0, max: Number.MAX_SAFE_INTEGER });
    const rows = components.proofs(limit, before);
    return {
      items: rows.map(({ record }) => proofView(record)),
      next: rows.length === limit ? String(rows.at(-1)?.place) : null,
    };
  });
}
