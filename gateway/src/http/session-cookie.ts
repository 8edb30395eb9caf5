import type { FastifyRequest } from "fastify";
import { longestMs } from "../accounts/index.ts";

/** The cookie of a session: its name, its text for `set-cookie`, and its secret in a request. */
export interface SessionCookie {
  readonly name: string;
  /** For `set-cookie`; null takes the cookie away. */
  text(secret: string | null): string;
  /** The secret that a request carries; null when it has none. */
  secretOf(request: FastifyRequest): string | null;
}

/**
 * HttpOnly, SameSite=Strict, whole path (RFC 6265bis); under TLS also Secure, with the `__Host-` name that no other
 * machine can set. The port is in the name, since cookies are shared by the ports of a machine.
 */
export function sessionCookie({
  tls,
  port,
}: {
  readonly tls: boolean;
  readonly port: number;
}): SessionCookie {
  const name = `${tls ? "__Host-" : ""}drumlin-${port}`;
  return {
    name,
    text(secret) {
      const age = secret === null ? 0 : longestMs / 1000;
      return `${name}=${secret ?? ""}; Path=/; Max-Age=${age}; HttpOnly; SameSite=Strict${tls ? "; Secure" : ""}`;
    },
    secretOf(request) {
      for (const pair of (request.headers.cookie ?? "").split(";")) {
        const at = pair.indexOf("=");
        if (pair.slice(0, at).trim() === name) return pair.slice(at + 1).trim() || null;
      }
      return null;
    },
  };
}
