/** What MQTT.js gives of a failed connection: a system's or OpenSSL's name, or the code of a CONNACK. */
export type Fault = Error & { readonly code?: string | number | undefined };

/** The error of a broker that does not answer; it names the host, never the sign-in. */
export function unreachable(url: string): Error {
  return new Error(`The broker at ${new URL(url).host} can't be reached.`);
}

/** CONNACK, MQTT 3.1.1 §3.2.2.3. */
const refusals: Readonly<Record<number, string>> = {
  1: "does not speak MQTT 3.1.1.",
  2: "does not take the name of this gateway.",
  3: "says that it can't serve now.",
  4: "refuses the name and password of this gateway.",
  5: "does not let this gateway in: look at its name and password.",
};

/** What Node and OpenSSL call a certificate that no authority known here has signed. */
const unknownAuthority: ReadonlySet<unknown> = new Set([
  "DEPTH_ZERO_SELF_SIGNED_CERT",
  "SELF_SIGNED_CERT_IN_CHAIN",
  "UNABLE_TO_GET_ISSUER_CERT",
  "UNABLE_TO_GET_ISSUER_CERT_LOCALLY",
  "UNABLE_TO_VERIFY_LEAF_SIGNATURE",
]);

/** Why a broker of somebody else can't be used, in a plain sentence that names its host, never the sign-in. */
export function brokerFault(url: string, { code, message }: Fault): string {
  const { host, hostname } = new URL(url);
  const certificate = `The certificate of the broker at ${host}`;
  if (message === "Keepalive timeout") return `The broker at ${host} answers no more.`;
  if (typeof code === "number") {
    const refusal = refusals[code];
    return refusal === undefined ? `The broker at ${host}: ${message}` : `The broker at ${host} ${refusal}`;
  }
  if (unknownAuthority.has(code))
    return `${certificate} is from an authority that is not known here: --broker-ca FILE names it.`;
  if (code === "CERT_HAS_EXPIRED") return `${certificate} has expired.`;
  if (code === "CERT_NOT_YET_VALID") return `${certificate} is not valid yet: is the clock right?`;
  if (code === "ERR_TLS_CERT_ALTNAME_INVALID") return `${certificate} is not for the name ${hostname}.`;
  if (code === "EPROTO" || code?.startsWith("ERR_SSL_"))
    return `The broker at ${host} does not speak TLS there, or none that is safe.`;
  // Without a code it is what MQTT.js could not read, or the broker let it wait.
  if (code === undefined && message !== "connack timeout") return `The broker at ${host}: ${message}`;
  return unreachable(url).message;
}
