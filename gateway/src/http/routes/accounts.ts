import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Who } from "../../accounts/index.ts";
import type { HttpComponents, HttpOptions } from "../components.ts";
import { type Me, passwordChangeSchema, settingsSchema, setUpSchema, signInSchema } from "../contract.ts";
import { type Gate, whoAsked } from "../gate.ts";
import { bodyOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** The first account, signing in and out, the own password. */
export function accountsRoutes(
  server: FastifyInstance,
  { accounts }: HttpComponents,
  { cookie, deviceCookie }: Gate,
  options: HttpOptions & { readonly plain: () => boolean },
): void {
  // What an older version stored and this one does not know is as if nothing was chosen.
  const settingsOf = (who: Who | null) =>
    who?.kind === "person"
      ? (settingsSchema.safeParse(accounts.people.settings(who.name)).data ?? null)
      : null;
  const meOf = (who: Who | null): Me => ({
    signedIn: who && { kind: who.kind, name: who.name, role: who.role },
    setUp: !accounts.people.exist() && !options.signedIn,
    plain: options.plain(),
    given: options.signedIn !== undefined && options.signedIn !== null,
    settings: settingsOf(who),
  });
  async function begin(
    request: FastifyRequest,
    reply: FastifyReply,
    { name, password }: { readonly name: string; readonly password: string },
  ): Promise<Me> {
    const device = deviceCookie.secretOf(request);
    const signedIn = await accounts.signIn({ name, password, address: request.ip, device });
    reply.header("set-cookie", [cookie.text(signedIn.secret), deviceCookie.text(signedIn.device)]);
    return meOf({ kind: "person", name: signedIn.person.name, role: signedIn.person.role });
  }
  function endSession(request: FastifyRequest): void {
    const secret = cookie.secretOf(request);
    if (secret !== null) accounts.sessions.end(secret);
  }

  server.get("/api/me", async (request) => meOf(whoAsked(request)));
  server.post("/api/set-up", async (request, reply) => {
    const { code, name, password } = bodyOf(setUpSchema, request.body);
    await accounts.setUp({ code, name, password, address: request.ip });
    return begin(request, reply, { name, password });
  });
  server.post("/api/sign-in", async (request, reply) => {
    const me = await begin(request, reply, bodyOf(signInSchema, request.body));
    endSession(request);
    return me;
  });
  server.post("/api/sign-out", async (request, reply) => {
    endSession(request);
    reply.header("set-cookie", cookie.text(null));
    return meOf(options.signedIn ?? null);
  });
  server.post("/api/me/settings", async (request) => {
    const settings = bodyOf(settingsSchema, request.body);
    const who = whoAsked(request);
    if (who?.kind !== "person") throw new Refusal("person-needed", "A program has no settings.");
    accounts.people.setSettings(who.name, settings, who.name);
    return meOf(who);
  });
  server.post("/api/me/password", async (request, reply) => {
    const { current, password } = bodyOf(passwordChangeSchema, request.body);
    const who = whoAsked(request);
    if (who?.kind !== "person" || !accounts.people.find(who.name))
      throw new Refusal("person-unknown", "Only somebody with a password can change it.");
    const device = deviceCookie.secretOf(request);
    await accounts.signIn({ name: who.name, password: current, address: request.ip, device });
    await accounts.people.setPassword(who.name, password, who.name);
    return begin(request, reply, { name: who.name, password });
  });
}
