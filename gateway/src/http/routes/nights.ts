import type { FastifyInstance } from "fastify";
import type { Night } from "../../nights/index.ts";
import type { HttpComponents } from "../components.ts";
import { longList } from "../long-list.ts";
import { nightLine, nightView } from "../night-views.ts";
import { type Query, timeOf, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** Nights that are folded in one turn of the event loop. */
const nightsAtOnce = 10;

/** Nights: each in a line, and one of them whole. */
export function nightsRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get<{ Querystring: Query }>("/api/nights", async (request) => {
    const { limit: asked, after } = request.query;
    const limit = wholeOf("limit", asked, { otherwise: 30, min: 1, max: 100 });
    const first = after === undefined ? {} : { beforeMs: timeOf(after, 0, "after") };
    const page = (count: number, last: Night | undefined) =>
      components.nights({ limit: count, ...(last ? { beforeMs: last.fromMs } : first) });
    const nights = await longList(request, limit, page, nightsAtOnce);
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
