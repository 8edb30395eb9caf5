import type { lookup } from "node:dns";
import { createServer, type Server, type Socket } from "node:net";
import { askOutside, isPrivateAddress } from "@drumlin/gateway/notifications";
import { describe, expect, it } from "vitest";

describe("what may be asked outside", () => {
  /** Names that lead where somebody else says. */
  const leads = (...addresses: readonly string[]) =>
    ((_name: string, _options: object, done: (error: null, found: object) => void) =>
      done(
        null,
        addresses.map((address) => ({ address, family: address.includes(":") ? 6 : 4 })),
      )) as unknown as typeof lookup;
  const ask = (url: string, resolve?: typeof lookup) =>
    askOutside({ url, method: "GET", allowPrivate: false, withinMs: 300 }, resolve);

  it.each([
    "http://127.0.0.1/",
    "http://[::1]/",
    "http://[::ffff:127.0.0.1]/",
    "http://2130706433/",
    "http://0x7f.1/",
    "http://192.168.1.1/",
    "http://169.254.169.254/latest/meta-data",
    "http://[fd00::1]/",
    "http://[64:ff9b::7f00:1]/",
    "http://0.0.0.0/",
  ])("refuses %s", async (url) => {
    await expect(ask(url)).rejects.toThrow("is an address of this machine or network");
  });

  it("refuses a name that leads into the own network, also beside another address", async () => {
    for (const addresses of [["10.0.0.7"], ["93.184.215.14", "127.0.0.1"], ["::1"], ["fe80::1"]])
      await expect(ask("http://relay.example/", leads(...addresses))).rejects.toThrow(
        "address of this machine",
      );
  });

  it("refuses other schemes and passwords in the address", async () => {
    await expect(ask("file:///etc/passwd")).rejects.toThrow("no way to reach");
    await expect(ask("http://user:pw@relay.example/")).rejects.toThrow("A password does not belong");
  });

  // IANA's special-purpose registries: https://www.iana.org/assignments/iana-ipv4-special-registry and …-ipv6-…
  it.each([
    ["100.64.0.1", true],
    ["172.15.255.255", false],
    ["172.16.0.1", true],
    ["172.32.0.1", false],
    ["8.8.8.8", false],
    ["198.19.255.255", true],
    ["224.0.0.1", true],
    ["2001:4860:4860::8888", false],
    ["2002:7f00:1::", true],
    ["::ffff:8.8.8.8", true],
    ["fe80::1%eth0", true],
    ["nonsense", true],
  ])("knows whether %s is private: %s", (address, isPrivate) => {
    expect(isPrivateAddress(address)).toBe(isPrivate);
  });

  it("says who does not answer, without more of the address than its host", async () => {
    const server: Server = await new Promise((resolve) => {
      const one = createServer((socket: Socket) => socket.destroy());
      one.listen(0, "127.0.0.1", () => resolve(one));
    });
    const { port: free } = server.address() as { port: number };
    await new Promise((resolve) => server.close(resolve));
    const asked = askOutside({
      url: `http://127.0.0.1:${free}/token/abc`,
      method: "GET",
      allowPrivate: true,
    });
    await expect(asked).rejects.toThrow(/^Nobody listens at 127.0.0.1\.$/);
  });
});
