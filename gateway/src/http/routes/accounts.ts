import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Who } from "../../accounts/index.ts";
import type { HttpComponents, HttpOptions } from "../components.ts";
import { type Me, passwordChangeSchema, setUpSchema, signInSchema } from "../contract.ts";
import { type Gate, whoAsked } from "../gate.ts";
import { bodyOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** The first account, signing in and out, the own password. */
export function accountsRoutes(
  server: FastifyInstance,
  { accounts }: HttpComponents,
  { cookie }: Gate,
  options: HttpOptions & { readonly plain: () => boolean },
): void {
  const meOf = (who: Who | null): Me => ({
    signedIn: who && { kind: who.kind, name: who.name, role: who.role },
    setUp: !accounts.people.exist() && !options.signedIn,
    plain: options.plain(),
    given: options.signedIn !== undefined && options.signedIn !== null,
  });
  async function begin(reply: FastifyReply, name: string, password: string, address: string): Promise<Me> {
    const { person, secret } = await accounts.signIn({ name, password, address });
    reply.header("set-cookie", cookie.text(secret));
    return meOf({ kind: "person", name: person.name, role: person.role });
  }
  function endSession(request: FastifyRequest): void {
    const secret = cookie.secretOf(request);
    if (secret !== null) accounts.sessions.end(secret);
  }

  server.get("/api/me", async (request) => meOf(whoAsked(request)));
  server.post("/api/set-up", async (request, reply) => {
    const { code, name, password } = bodyOf(setUpSchema, request.body);
    await accounts.setUp({ code, name, password, address: request.ip });
    return begin(reply, name, password, request.ip);
  });
  server.post("/api/sign-in", async (request, reply) => {
    const { name, password } = bodyOf(signInSchema, request.body);
    const me = await begin(reply, name, password, request.ip);
    endSession(request);
    return me;
  });
  server.post("/api/sign-out", async (request, reply) => {
    endSession(request);
    reply.header("set-cookie", cookie.text(null));
    return meOf(options.signedIn ?? null);
  });
  server.post("/api/me/password", async (request, reply) => {
    const { current, password } = bodyOf(passwordChangeSchema, request.body);
    const who = whoAsked(request);
    if (who?.kind !== "person" || !accounts.people.find(who.name))
      throw new Refusal("person-unknown", "Only somebody with a password can change it.");
    await accounts.signIn({ name: who.name, password: current, address: request.ip });
    await accounts.people.setPassword(who.name, password, who.name);
    return begin(reply, who.name, password, request.ip);
  });
}
