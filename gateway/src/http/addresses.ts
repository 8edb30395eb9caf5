import { BlockList, isIPv4, isIPv6 } from "node:net";

const own = new BlockList();
// Loopback; private (RFC 1918, RFC 4193), link-local (RFC 3927, RFC 4291), shared by a carrier or an overlay (RFC 6598).
own.addSubnet("127.0.0.0", 8);
own.addAddress("::1", "ipv6");
own.addSubnet("10.0.0.0", 8);
own.addSubnet("172.16.0.0", 12);
own.addSubnet("192.168.0.0", 16);
own.addSubnet("169.254.0.0", 16);
own.addSubnet("100.64.0.0", 10);
own.addSubnet("fc00::", 7, "ipv6");
own.addSubnet("fe80::", 10, "ipv6");

/** Whether a host's name or address is this machine itself. */
export function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^(::ffff:)?127(\.\d{1,3}){3}$/.test(host);
}

/** Whether an address is loopback or of a private network. A name is not. */
export function isPrivate(address: string): boolean {
  const plain = address.replace(/^::ffff:(?=\d+\.)/, "").replace(/%.*$/, "");
  if (isIPv4(plain)) return own.check(plain, "ipv4");
  return isIPv6(plain) && own.check(plain, "ipv6");
}
