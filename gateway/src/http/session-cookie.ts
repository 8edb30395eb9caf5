import type { FastifyRequest } from "fastify";
import { longestMs } from "../accounts/index.ts";

/** A cookie that carries a secret: its name, its text for `set-cookie`, and its secret in a request. */
export interface SessionCookie {
  readonly name: string;
  /** For `set-cookie`; null takes the cookie away. */
  text(secret: string | null): string;
  /** The secret that a request carries; null when it has none. */
  secretOf(request: FastifyRequest): string | null;
}

/** Longest that browsers keep a cookie (RFC 6265bis draft, §5.5: 400 days). */
const deviceMs = 400 * 86_400_000;

interface CookieOptions {
  readonly tls: boolean;
  readonly port: number;
}

/** The cookie of a person's session. */
export function sessionCookie(options: CookieOptions): SessionCookie {
  return secretCookie("drumlin", longestMs, options);
}

/** The cookie by which a device is known on which somebody has signed in; it lets nobody in. */
export function deviceCookie(options: CookieOptions): SessionCookie {
  return secretCookie("drumlin-device", deviceMs, options);
}

/**
 * HttpOnly, SameSite=Strict, whole path (RFC 6265bis); under TLS also Secure, with the `__Host-` name that no other
 * machine can set. The port is in the name, since cookies are shared by the ports of a machine.
 */
function secretCookie(kind: string, keptMs: number, { tls, port }: CookieOptions): SessionCookie {
  const name = `${tls ? "__Host-" : ""}${kind}-${port}`;
  return {
    name,
    text(secret) {
      const age = secret === null ? 0 : keptMs / 1000;
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
