import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { newPersonSchema, newTokenBodySchema, roleBodySchema } from "../contract.ts";
import { signedBy } from "../gate.ts";
import { bodyOf } from "../read-request.ts";
import { iso } from "../views.ts";

/** People and programs: who may sign in, with which role. */
export function peopleRoutes(server: FastifyInstance, { accounts }: HttpComponents): void {
  const { people, tokens } = accounts;
  const listOf = (
    rows: readonly { readonly name: string; readonly role: string; readonly madeAtMs: number }[],
  ) => ({
    items: rows.map(({ name, role, madeAtMs }) => ({ name, role, madeAt: iso(madeAtMs) })),
    next: null,
  });

  server.get("/api/people", async () => listOf(people.list()));
  server.post("/api/people", async (request) => {
    await people.add({ ...bodyOf(newPersonSchema, request.body), by: signedBy(request) });
    return listOf(people.list());
  });
  server.post<{ Params: { name: string } }>("/api/people/:name/role", async (request) => {
    people.setRole(request.params.name, bodyOf(roleBodySchema, request.body).role, signedBy(request));
    return listOf(people.list());
  });
  server.delete<{ Params: { name: string } }>("/api/people/:name", async (request) => {
    people.remove(request.params.name, signedBy(request));
    return listOf(people.list());
  });

  server.get("/api/tokens", async () => listOf(tokens.list()));
  server.post("/api/tokens", async (request) => {
    const { name, role } = bodyOf(newTokenBodySchema, request.body);
    return { name, role, token: tokens.add(name, role, signedBy(request)) };
  });
  server.delete<{ Params: { name: string } }>("/api/tokens/:name", async (request) => {
    tokens.revoke(request.params.name, signedBy(request));
    return listOf(tokens.list());
  });
}
