import type { ServerResponse } from "node:http";

/** What pages may load and who may frame them (CSP 3): their own parts only, nobody. */
const contentSecurityPolicy =
  "default-src 'self'; object-src 'none'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; frame-ancestors 'none'; base-uri 'none'; form-action 'self'";
/** A year, for this host alone (RFC 6797). */
const strictTransport = "max-age=31536000";

/** Headers that every answer has; `isTls` adds the one that TLS alone may have. */
export function securityHeaders(isTls: boolean): Readonly<Record<string, string>> {
  return {
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "content-security-policy": contentSecurityPolicy,
    ...(isTls ? { "strict-transport-security": strictTransport } : {}),
  };
}

/** Puts them on before anything else sees the request; what is no page's file is kept by no cache. */
export function protectAnswer(response: ServerResponse, path: string, isTls: boolean): void {
  for (const [name, value] of Object.entries(securityHeaders(isTls))) response.setHeader(name, value);
  if (/^\/(api|metrics|healthz|readyz)\b/.test(path)) response.setHeader("cache-control", "no-store");
}
