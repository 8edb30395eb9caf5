/**
 * Where somebody comes from, as limits count it: an IPv4 address, or the /64 of an IPv6 address, since one house has one
 * such network (RFC 6177 gives a site at least that).
 */
export function originOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.)/, "");
  if (!plain.includes(":")) return plain;
  const [head = "", tail] = plain.split("::");
  const groups = head.split(":");
  const rest = tail === undefined ? [] : tail.split(":");
  const whole =
    tail === undefined ? groups : [...groups, ...Array(8 - groups.length - rest.length).fill("0"), ...rest];
  return whole.slice(0, 4).join(":");
}
