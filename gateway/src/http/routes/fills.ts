import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { signedBy } from "../gate.ts";
import { giveAct } from "../give-act.ts";
import { type Query, timeOf, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { fillView } from "../views.ts";

/** Fills of the drums, and a float that a person holds up. */
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
      const given = { type: "proof-test", float: `${id}.${role}`, how: "lifted" } as const;
      await giveAct(components, given, signedBy(request));
      const view = components.lineView();
      if (!view) throw new Refusal("not-ready", "No line is in force yet.");
      return view;
    },
  );
}
