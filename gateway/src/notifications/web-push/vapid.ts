import { createPrivateKey, generateKeyPairSync, type KeyObject, sign } from "node:crypto";
import type { Secrets } from "../secrets.ts";

/** The gateway's own key pair for push services (RFC 8292). */
export interface VapidKeys {
  readonly privateKey: KeyObject;
  /** Uncompressed point, base64url: what pages subscribe with. */
  readonly publicKey: string;
}

const secretName = "vapid-key";

/** The gateway's keys; made at the first start and kept among the secrets, since subscriptions belong to them. */
export function vapidKeys(secrets: Pick<Secrets, "getOrMake">): VapidKeys {
  const pem = secrets.getOrMake(secretName, () =>
    generateKeyPairSync("ec", { namedCurve: "P-256" }).privateKey.export({ type: "pkcs8", format: "pem" }),
  );
  const privateKey = createPrivateKey(pem);
  const { x = "", y = "" } = privateKey.export({ format: "jwk" });
  const point = Buffer.concat([Buffer.from([4]), Buffer.from(x, "base64url"), Buffer.from(y, "base64url")]);
  return { privateKey, publicKey: point.toString("base64url") };
}

/** A token is good for so long; RFC 8292 §2 allows a day. */
const goodForMs = 12 * 3_600_000;

const part = (value: object): string => Buffer.from(JSON.stringify(value)).toString("base64url");

/** The `Authorization` of a request to a push service: who sends, signed with ES256 (RFC 8292 §3, RFC 7518 §3.4). */
export function vapidAuthorization(
  endpoint: string,
  { privateKey, publicKey }: VapidKeys,
  { subject, nowMs }: { readonly subject: string; readonly nowMs: number },
): string {
  const claims = { aud: new URL(endpoint).origin, exp: Math.floor((nowMs + goodForMs) / 1000), sub: subject };
  const signed = `${part({ typ: "JWT", alg: "ES256" })}.${part(claims)}`;
  const signature = sign("sha256", Buffer.from(signed), { key: privateKey, dsaEncoding: "ieee-p1363" });
  return `vapid t=${signed}.${signature.toString("base64url")}, k=${publicKey}`;
}
