// A broker whose certificate or sign-in is not right, at the start or later: each is told in a plain sentence.
import { spawnSync } from "node:child_process";
import { copyFileSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { endAll, ends, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const folder = mkdtempSync(join(tmpdir(), "drumlin-broker-tls-"));
const file = (name: string) => join(folder, name);
function openssl(...args: readonly string[]): void {
  const done = spawnSync(process.env.DRUMLIN_OPENSSL ?? "openssl", args, { cwd: folder, encoding: "utf8" });
  if (done.status !== 0) throw new Error(`openssl ${args[0]}: ${done.stderr}`);
}
const newKey = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"];
function makeAuthority(name: string): void {
  openssl(
    ...["req", "-x509", ...newKey, "-keyout", `${name}.key`, "-out", `${name}.pem`],
    ...["-days", "2", "-subj", `/CN=${name}`],
  );
}
/** A certificate of the house's authority for a host, good from the first to the second day from today. */
function makeCertificate(name: string, host: string, dates: readonly string[]): void {
  openssl("req", ...newKey, "-keyout", `${name}.key`, "-out", `${name}.csr`, "-subj", "/CN=broker");
  writeFileSync(file(`${name}.ext`), `subjectAltName=DNS:${host}\n`);
  openssl(
    ...["x509", "-req", "-in", `${name}.csr`, "-CA", "house.pem", "-CAkey", "house.key", "-CAcreateserial"],
    ...["-out", `${name}.pem`, "-extfile", `${name}.ext`, ...dates],
  );
}

beforeAll(() => {
  makeAuthority("house");
  makeAuthority("other");
  makeCertificate("good", "localhost", ["-days", "2"]);
  makeCertificate("elsewhere", "broker.example", ["-days", "2"]);
  // It ended before it began, which openssl lets be: over on any day.
  makeCertificate("over", "localhost", ["-days", "-1"]);
});
afterEach(endAll);

const told = (url: string) => new URL(url).host;
const presented = (name: string) => ({ cert: file(`${name}.pem`), key: file(`${name}.key`) });

describe("a broker with TLS", () => {
  it.each([
    ["of an authority nobody named", "good", "other", /is from an authority that is not known here/],
    ["that has expired", "over", "house", /has expired\./],
    ["for another name", "elsewhere", "house", /is not for the name localhost\./],
  ])(
    "and a certificate %s: the gateway does not start and says why",
    async (_what, name, authority, says) => {
      const mosquitto = await startMosquitto(presented(name));
      ends.push(() => mosquitto.stop());
      const asked = ["--broker", mosquitto.url, "--broker-ca", file(`${authority}.pem`)];
      const failed = startProcess(await newSite(["press"]), asked);
      await expect(failed).rejects.toThrow(says);
      await expect(failed).rejects.toThrow(`MQTT: The certificate of the broker at ${told(mosquitto.url)}`);
    },
  );

  it("whose certificate expires while the gateway runs is told once, in /readyz as well; with a good one all goes on", async () => {
    for (const end of ["pem", "key"]) copyFileSync(file(`good.${end}`), file(`now.${end}`));
    const mosquitto = await startMosquitto(presented("now"));
    ends.push(() => mosquitto.stop());
    const asked = ["--broker", mosquitto.url, "--broker-ca", file("house.pem")];
    const gateway = await startProcess(await newSite(["press"]), asked);
    ends.push(() => gateway.stop());
    for (const end of ["pem", "key"]) copyFileSync(file(`over.${end}`), file(`now.${end}`));
    await mosquitto.restart();
    const text = `The certificate of the broker at ${told(mosquitto.url)} has expired.`;
    await expect.poll(async () => JSON.stringify(await gateway.json("/readyz"))).toContain(text);
    for (const end of ["pem", "key"]) copyFileSync(file(`good.${end}`), file(`now.${end}`));
    await mosquitto.restart();
    await expect.poll(() => gateway.json("/readyz")).toEqual({ ready: true });
    expect(gateway.printed().split(`broker: ${text}`)).toHaveLength(2);
  });
});

it("a password changed while the gateway runs is told once, in /readyz as well; what came meanwhile comes once it is right", async () => {
  const passwords = file("passwords");
  const set = (password: string) => {
    writeFileSync(passwords, `gateway:${password}\nnode:salt\n`, { mode: 0o600 });
    const hashed = spawnSync(process.env.DRUMLIN_MOSQUITTO_PASSWD ?? "mosquitto_passwd", ["-U", passwords], {
      encoding: "utf8",
    });
    if (hashed.status !== 0) throw new Error(hashed.stderr);
  };
  set("brine");
  const mosquitto = await startMosquitto(null, 0, [], [`password_file ${passwords}`]);
  ends.push(() => mosquitto.stop());
  const signIn = { env: { DRUMLIN_BROKER_USER: "gateway", DRUMLIN_BROKER_PASSWORD: "brine" } };
  const site = await newSite(["press"]);
  const gateway = await startProcess(site, ["--broker", mosquitto.url], signIn);
  ends.push(() => gateway.stop());
  await expect(
    startProcess(await newSite(["press"]), ["--broker", mosquitto.url], {
      env: { ...signIn.env, DRUMLIN_BROKER_PASSWORD: "fresh water" },
    }),
  ).rejects.toThrow(/MQTT: The broker at .* does not let this gateway in: look at its name and password\./);
  set("another");
  await mosquitto.restart();
  const text = `The broker at ${told(mosquitto.url)} does not let this gateway in`;
  await expect.poll(async () => JSON.stringify(await gateway.json("/readyz"))).toContain(text);
  const node = await connectAsync(mosquitto.url, { clientId: "node", username: "node", password: "salt" });
  await node.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":21}]', { qos: 1 });
  await node.endAsync();
  set("brine");
  await mosquitto.restart();
  await eventually(
    () => gateway.json<LineView>("/api/line"),
    (line) => line.points[0]?.temperature.value === 21,
  );
  expect(gateway.printed().split(text)).toHaveLength(2);
  expect(await gateway.json("/readyz")).toEqual({ ready: true });
});
