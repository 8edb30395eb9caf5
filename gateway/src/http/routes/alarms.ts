import type { FastifyInstance } from "fastify";
import type { GivenAct, HttpComponents } from "../components.ts";
import { alarmActSchema } from "../contract.ts";
import { signedBy } from "../gate.ts";
import { bodyOf, type Query, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { alarmChangeView, alarmView } from "../views.ts";

/** Alarms that stand, their journal, and acts on one occurrence. */
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

  for (const type of [
    "acknowledge",
    "shelve",
    "unshelve",
    "reset",
    "out-of-service",
    "in-service",
  ] as const) {
    server.post<{ Params: { key: string } }>(`/api/alarms/:key/${type}`, async (request) => {
      const body = bodyOf(alarmActSchema, request.body);
      const common = {
        key: request.params.key,
        occurrence: body.occurrence,
        ...(body.note ? { note: body.note } : {}),
      };
      if (type === "shelve" && body.minutes === undefined)
        throw new Refusal("body-not-understood", "minutes: say for how long.");
      const act: GivenAct =
        type === "shelve"
          ? {
              type,
              ...common,
              untilMs: components.now() + (body.minutes ?? 0) * 60_000,
              oneShot: body.oneShot === true,
            }
          : { type, ...common };
      const refused = await components.act(act, signedBy(request));
      if (refused) throw new Refusal(refused.code, refused.message);
      return { items: components.standing().map(alarmView), next: null };
    });
  }
}
