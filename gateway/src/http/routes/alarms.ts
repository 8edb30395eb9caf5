import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { type Query, wholeOf } from "../read-request.ts";
import { alarmChangeView, alarmView } from "../views.ts";

/** Alarms that stand, and their journal. */
export function alarmsRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get("/api/alarms", async () => ({ items: components.standing().map(alarmView), next: null }));
  server.get<{ Querystring: Query }>("/api/alarms/journal", async (request) => {
    const limit = wholeOf(request.query.limit, 200, 1, 1000, "limit");
    const before =
      request.query.after === undefined
        ? undefined
        : wholeOf(request.query.after, 0, 0, Number.MAX_SAFE_INTEGER, "after");
    const rows = components.alarmChanges(limit, before);
    return {
      items: rows.map(({ change }) => alarmChangeView(change)),
      next: rows.length === limit ? String(rows.at(-1)?.place) : null,
    };
  });
}
