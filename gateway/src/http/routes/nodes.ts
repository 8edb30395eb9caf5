import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { signedBy } from "../gate.ts";
import { everyCode } from "../problems.ts";
import { iso } from "../views.ts";

/** Nodes, and what was refused of them. */
export function nodesRoutes(server: FastifyInstance, components: HttpComponents): void {
  const nodes = () => ({ items: components.lineView()?.nodes ?? [], next: null });
  server.get("/api/nodes", async () => nodes());
  server.post<{ Params: { id: string } }>("/api/nodes/:id/credentials", async (request) => {
    const { id } = request.params;
    return { node: id, secret: await components.accounts.nodes.put(id, signedBy(request)) };
  });
  server.delete<{ Params: { id: string } }>("/api/nodes/:id/credentials", async (request) => {
    components.accounts.nodes.revoke(request.params.id, signedBy(request));
    return nodes();
  });
  server.get("/api/rejections", async () => ({
    items: components.rejections().map((rejection) => ({
      code: rejection.code,
      title: everyCode[rejection.code]?.title ?? rejection.code,
      todo: everyCode[rejection.code]?.todo ?? "",
      node: rejection.node,
      count: rejection.count,
      lastAt: iso(rejection.lastAtMs),
      examples: rejection.examples.map(({ atMs, topic, detail, example }) => ({
        at: iso(atMs),
        topic,
        detail,
        example,
      })),
    })),
    next: null,
  }));
}
