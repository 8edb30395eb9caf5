import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import {
  disabledBodySchema,
  newPersonSchema,
  newTokenBodySchema,
  passwordBodySchema,
  roleBodySchema,
} from "../contract.ts";
import { signedBy } from "../gate.ts";
import { bodyOf } from "../read-request.ts";
import { iso } from "../views.ts";

interface Named {
  readonly name: string;
  readonly role: string;
  readonly madeAtMs: number;
}

const viewOf = ({ name, role, madeAtMs }: Named) => ({ name, role, madeAt: iso(madeAtMs) });

/** People and programs: who may sign in, with which role. */
export function peopleRoutes(server: FastifyInstance, { accounts }: HttpComponents): void {
  const { people, sessions, tokens } = accounts;
  const everybody = () => ({
    items: people.list().map((person) => ({ ...viewOf(person), disabled: person.isDisabled })),
    next: null,
  });
  const everyToken = () => ({ items: tokens.list().map(viewOf), next: null });

  server.get("/api/people", async () => everybody());
  server.post("/api/people", async (request) => {
    await people.add({ ...bodyOf(newPersonSchema, request.body), by: signedBy(request) });
    return everybody();
  });
  server.post<{ Params: { name: string } }>("/api/people/:name/role", async (request) => {
    people.setRole(request.params.name, bodyOf(roleBodySchema, request.body).role, signedBy(request));
    return everybody();
  });
  server.post<{ Params: { name: string } }>("/api/people/:name/password", async (request) => {
    const { name } = request.params;
    await people.setPassword(name, bodyOf(passwordBodySchema, request.body).password, signedBy(request));
    sessions.endUnwritten(name);
    return everybody();
  });
  server.post<{ Params: { name: string } }>("/api/people/:name/disabled", async (request) => {
    const { name } = request.params;
    people.setDisabled(name, bodyOf(disabledBodySchema, request.body).disabled, signedBy(request));
    sessions.endUnwritten(name);
    return everybody();
  });
  server.post<{ Params: { name: string } }>("/api/people/:name/sign-out", async (request) => {
    people.endSessions(request.params.name, signedBy(request));
    sessions.endUnwritten(request.params.name);
    return everybody();
  });
  server.delete<{ Params: { name: string } }>("/api/people/:name", async (request) => {
    people.remove(request.params.name, signedBy(request));
    return everybody();
  });

  server.get("/api/tokens", async () => everyToken());
  server.post("/api/tokens", async (request) => {
    const { name, role } = bodyOf(newTokenBodySchema, request.body);
    return { name, role, token: tokens.add(name, role, signedBy(request)) };
  });
  server.delete<{ Params: { name: string } }>("/api/tokens/:name", async (request) => {
    tokens.revoke(request.params.name, signedBy(request));
    return everyToken();
  });
}
