import type { FastifyInstance } from "fastify";
import { drumFillSchema, releaseSchema } from "../bodies.ts";
import type { HttpComponents } from "../components.ts";
import { signedBy } from "../gate.ts";
import { bodyOf, type Query, timeOf, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { fillView } from "../views.ts";

/** Fills of the drums, and what a person does with a drum: fill it by hand, release its water. */
export function fillsRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get<{ Querystring: Query }>("/api/fills", async (request) => {
    const { drum, after, from, to } = request.query;
    const limit = wholeOf(request.query.limit, 200, 1, 1000, "limit");
    const items = components.fills({
      limit,
      ...(drum === undefined ? {} : { drum }),
      ...(from === undefined ? {} : { fromMs: timeOf(from, 0, "from") }),
      ...(after === undefined && to === undefined ? {} : { beforeMs: timeOf(after ?? to, 0, "after") }),
    });
    const last = items.at(-1);
    return {
      items: items.map(fillView),
      next: items.length === limit && last ? String(last.startedAtMs) : null,
    };
  });
  server.get<{ Params: { id: string } }>("/api/fills/:id", async (request) => {
    const fill = components.fill(request.params.id);
    if (!fill) throw new Refusal("no-such-fill", request.params.id.slice(0, 100));
    return fillView(fill);
  });

  async function act(given: Parameters<HttpComponents["act"]>[0], by: string) {
    const refused = await components.act(given, by);
    if (refused) throw new Refusal(refused.code, refused.message);
    const view = components.lineView();
    if (!view) throw new Refusal("not-ready", "No line is in force yet.");
    return view;
  }
  server.post<{ Params: { id: string } }>("/api/drums/:id/release", async (request) => {
    const { reason, note } = bodyOf(releaseSchema, request.body);
    const given = { type: "release" as const, drum: request.params.id, reason, ...(note ? { note } : {}) };
    return act(given, signedBy(request));
  });
  server.post<{ Params: { id: string } }>("/api/drums/:id/fill", async (request) => {
    const type = bodyOf(drumFillSchema, request.body).do === "start" ? "fill-started" : "fill-stopped";
    return act({ type, drum: request.params.id }, signedBy(request));
  });
  server.post<{ Params: { id: string; role: string } }>(
    "/api/drums/:id/floats/:role/lifted",
    async (request) => {
      const { id, role } = request.params;
      const float = components
        .line()
        ?.drums.find((drum) => drum.id === id)
        ?.floats.find((candidate) => candidate.role === role);
      if (!float) throw new Refusal("no-such-float", `${id} has no ${role} float.`);
      const raw = components.rawContact(float.channel);
      if (raw === null)
        throw new Refusal("float-not-heard", `${float.channel} has said nothing since the gateway started.`);
      // A sense that is known is proved, never turned round: a tap by mistake would make a full drum look empty.
      if (float.wetWhen !== null && float.wetWhen !== raw)
        throw new Refusal(
          "float-not-lifted",
          `${float.channel} says ${raw ? "closed" : "open"}, and the line says that this means dry.`,
        );
      if (float.wetWhen === null) {
        const saved = await components.lineFile.setFloatSense(id, role, raw);
        if (!saved.ok) throw new Refusal(saved.code, saved.message);
      }
      return act({ type: "proof-test", float: `${id}.${role}`, how: "lifted" }, signedBy(request));
    },
  );
}
