import type { FastifyInstance } from "fastify";
import { recordNames } from "../../logbook/index.ts";
import type { HttpComponents } from "../components.ts";
import { longList } from "../long-list.ts";
import { type Query, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** Each kind of record as `drumlin export` prints it. */
export function recordsRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get<{ Params: { kind: string }; Querystring: Query }>("/api/records/:kind", async (request) => {
    const kind = recordNames.find((known) => known === request.params.kind);
    if (!kind) throw new Refusal("query-not-understood", `Say one of: ${recordNames.join(", ")}.`);
    const limit = wholeOf("limit", request.query.limit, { otherwise: 200, min: 1, max: 1000 });
    const { after } = request.query;
    const before =
      after === undefined
        ? undefined
        : wholeOf("after", after, { otherwise: 0, min: 0, max: Number.MAX_SAFE_INTEGER });
    const page = (count: number, last: { readonly place: number } | undefined) =>
      components.records(kind, count, last?.place ?? before);
    const rows = await longList(request, limit, page);
    return {
      items: rows.map(({ record }) => record),
      next: rows.length >= limit ? String(rows.at(-1)?.place) : null,
    };
  });
}
