import type { FastifyReply, FastifyRequest } from "fastify";
import { byOf, type Role, type Who } from "../accounts/index.ts";
import { isLoopback } from "./addresses.ts";
import type { NeededRole } from "./call.ts";
import { calls } from "./calls.ts";
import type { HttpComponents, HttpOptions } from "./components.ts";
import { Refusal } from "./refusal.ts";
import { deviceCookie, type SessionCookie, sessionCookie } from "./session-cookie.ts";

const asked = new WeakMap<object, Who>();

/** Who made a request; null for one that needed nobody. */
export function whoAsked(request: FastifyRequest): Who | null {
  return asked.get(request.raw) ?? null;
}

/** How an act of this request is signed. */
export function signedBy(request: FastifyRequest): string {
  const who = whoAsked(request);
  return who ? byOf(who) : "nobody";
}

/** Lets requests in by role, and tells later whether they would still be let in. */
export interface Gate {
  readonly cookie: SessionCookie;
  readonly deviceCookie: SessionCookie;
  /** Throws Refusal `host-not-allowed`, `origin-not-allowed`, `sign-in-needed`, `account-needed`, `role-not-enough`. */
  check(request: FastifyRequest, reply: FastifyReply): void;
  /** Whether the request would be let in now: a stream ends when its session, token or person has gone. */
  stillIn(request: FastifyRequest): boolean;
  /** Throws when the document does not know a route: then nobody has said who may use it. */
  requireKnown(method: string, url: string): void;
}

function nameOf(method: string, url: string): string {
  return `${method === "HEAD" ? "GET" : method} ${url.replace(/:(\w+)/g, "{$1}")}`;
}

function isEnough(role: Role, needed: NeededRole): boolean {
  return role === "operator" || needed !== "operator";
}

/** The gate before every route. */
export function createGate(
  { accounts }: Pick<HttpComponents, "accounts">,
  { signedIn = null, tls = null, port }: Pick<HttpOptions, "signedIn" | "tls" | "port">,
): Gate {
  const needed = new Map(calls.map(({ method, path, role }) => [`${method.toUpperCase()} ${path}`, role]));
  const cookie = sessionCookie({ tls: tls !== null, port });

  function bearerOf(request: FastifyRequest): string | null {
    return /^Bearer +([\w-]{1,200})$/i.exec(request.headers.authorization ?? "")?.[1] ?? null;
  }

  function whoIs(request: FastifyRequest): Who | null {
    if (request.headers.authorization !== undefined) {
      const bearer = bearerOf(request);
      return bearer === null ? null : accounts.tokens.find(bearer);
    }
    const secret = cookie.secretOf(request);
    return (secret === null ? null : accounts.sessions.find(secret)) ?? signedIn;
  }

  function roleOf(request: FastifyRequest): NeededRole {
    return needed.get(nameOf(request.method, request.routeOptions.url ?? "")) ?? "open";
  }

  /** The refusal, or null to let in. */
  function refusalOf(request: FastifyRequest, role: NeededRole, who: Who | null): Refusal | null {
    if (role === "open") return null;
    if (who)
      return isEnough(who.role, role) ? null : new Refusal("role-not-enough", `This needs an ${role}.`);
    if (request.headers.authorization !== undefined)
      return new Refusal("sign-in-needed", "The token is not one of this gateway's.");
    if (accounts.people.exist()) return new Refusal("sign-in-needed", "Sign in, or send a token.");
    // Until the first account exists the gateway listens on loopback only.
    return role === "operator"
      ? new Refusal("account-needed", "Make the first account with the code that the gateway printed.")
      : null;
  }

  return {
    cookie,
    deviceCookie: deviceCookie({ tls: tls !== null, port }),
    check(request, reply) {
      // Without an account nothing but the name tells the own page from another one that resolves to this machine.
      const trusting = signedIn !== null || !accounts.people.exist();
      if (trusting && !isLoopback(request.hostname.replace(/^\[|\]$/g, "")))
        throw new Refusal("host-not-allowed", request.hostname.slice(0, 100));
      const { origin, host } = request.headers;
      // Plain HTTP may stand behind a proxy that speaks TLS.
      const own = tls ? [`https://${host}`] : [`http://${host}`, `https://${host}`];
      if (
        request.method !== "GET" &&
        request.method !== "HEAD" &&
        origin !== undefined &&
        !own.includes(origin)
      )
        throw new Refusal("origin-not-allowed", origin.slice(0, 100));
      const who = whoIs(request);
      const refusal = refusalOf(request, roleOf(request), who);
      if (refusal?.code === "sign-in-needed") reply.header("www-authenticate", "Bearer");
      if (refusal) throw refusal;
      if (who) asked.set(request.raw, who);
    },
    stillIn: (request) => refusalOf(request, roleOf(request), whoIs(request)) === null,
    requireKnown(method, url) {
      if (!needed.has(nameOf(method, url)))
        throw new Error(`The document does not know ${method} ${url}: nobody has said who may use it.`);
    },
  };
}
