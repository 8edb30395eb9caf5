import { BlockList, isIP, isIPv4 } from "node:net";

/**
 * Addresses that are not of the public Internet, or stand for one that may not be:
 * IANA special-purpose registries (RFC 6890, RFC 8190), multicast (RFC 5771, RFC 4291).
 */
// One list each: an IPv4 address is looked for among mapped IPv6 ones, too.
const special = { ipv4: new BlockList(), ipv6: new BlockList() };
for (const [net, bits] of [
  ["0.0.0.0", 8],
  ["10.0.0.0", 8],
  ["100.64.0.0", 10],
  ["127.0.0.0", 8],
  ["169.254.0.0", 16],
  ["172.16.0.0", 12],
  ["192.0.0.0", 24],
  ["192.0.2.0", 24],
  ["192.88.99.0", 24],
  ["192.168.0.0", 16],
  ["198.18.0.0", 15],
  ["198.51.100.0", 24],
  ["203.0.113.0", 24],
  ["224.0.0.0", 4],
  ["240.0.0.0", 4],
] as const)
  special.ipv4.addSubnet(net, bits, "ipv4");
for (const [net, bits] of [
  // Unspecified, loopback, mapped and compatible IPv4, whatever they lead to.
  ["::", 8],
  // NAT64 (RFC 6052, RFC 8215) and 6to4 (RFC 3056) lead to an IPv4 address inside them; Teredo (RFC 4380) likewise.
  ["64:ff9b::", 96],
  ["64:ff9b:1::", 48],
  ["100::", 64],
  ["2001::", 23],
  ["2001:db8::", 32],
  ["2002::", 16],
  ["3fff::", 20],
  ["5f00::", 16],
  ["fc00::", 7],
  ["fe80::", 10],
  ["fec0::", 10],
  ["ff00::", 8],
] as const)
  special.ipv6.addSubnet(net, bits, "ipv6");

/** Whether an IP address is one of the own machine, the own network, or not of the public Internet at all. */
export function isPrivateAddress(address: string): boolean {
  const bare = address.replace(/^\[|\]$/g, "").replace(/%.*$/, "");
  if (isIP(bare) === 0) return true;
  const family = isIPv4(bare) ? "ipv4" : "ipv6";
  return special[family].check(bare, family);
}
