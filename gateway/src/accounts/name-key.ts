/** Names are compared without regard to case and composition. */
export function keyOf(name: string): string {
  return name.normalize("NFKC").toLowerCase();
}

/** Whether two names are the same person's. */
export const isSameName = (one: string, other: string): boolean => keyOf(one) === keyOf(other);

/** Names under which the gateway itself, its command line and programs stand in the audit, and one that says "none". */
const reserved = new Set(
  [
    "gateway",
    "drumlin",
    "command line",
    "set-up code",
    "nobody",
    "anonymous",
    "program",
    "system",
    "demo",
  ].map((name) => name.replaceAll(/[ ._-]/g, "")),
);

/** Whether a name would be taken for somebody else in the audit: one of the gateway's own, or an address. */
export function isReserved(name: string): boolean {
  const plain = keyOf(name).replaceAll(/[ ._-]/g, "");
  return reserved.has(plain) || /^[\d.]+$/.test(keyOf(name));
}
