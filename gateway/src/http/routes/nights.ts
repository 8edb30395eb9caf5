import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { nightLine, nightView } from "../night-views.ts";
import { type Query, timeOf, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** Nights: each in a line, and one of them whole. */
export function nightsRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get<{ Querystring: Query }>("/api/nights", async ({ query: { limit: asked, after } }) => {
    const limit = wholeOf("limit", asked, { otherwise: 30, min: 1, max: 100 });
    const nights = components.nights({
      limit,
      ...(after === undefined ? {} : { beforeMs: timeOf(after, 0, "after") }),
    });
    const last = nights.at(-1);
    return {
      items: nights.map(nightLine),
      next: nights.length === limit && last ? String(last.fromMs) : null,
    };
  });
  server.get<{ Params: { date: string } }>("/api/nights/:date", async ({ params: { date } }) => {
    const night = components.night(date);
    if (!night) throw new Refusal("no-such-night", `${date.slice(0, 40)}: write a date such as 2026-03-01.`);
    return nightView(night);
  });
}
