import { spawnSync } from "node:child_process";
import { chmodSync, copyFileSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { request } from "node:https";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { drumlin } from "./command-line.ts";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const folder = mkdtempSync(join(tmpdir(), "drumlin-tls-"));
const file = (name: string) => join(folder, name);

function openssl(...args: string[]): void {
  const done = spawnSync(process.env.DRUMLIN_OPENSSL ?? "openssl", args, { cwd: folder, encoding: "utf8" });
  if (done.status !== 0) throw new Error(`openssl ${args[0]}: ${done.stderr}`);
}

/** A private CA (ECDSA P-256) and, signed by it, a certificate for this machine. */
function makeCertificates(ca: string, name: string): void {
  const key = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"];
  openssl(
    "req",
    "-x509",
    ...key,
    "-keyout",
    `${ca}.key`,
    "-out",
    `${ca}.pem`,
    "-days",
    "2",
    "-subj",
    `/CN=${ca}`,
  );
  openssl("req", ...key, "-keyout", `${name}.key`, "-out", `${name}.csr`, "-subj", "/CN=saltmarsh-house");
  writeFileSync(file(`${name}.ext`), "subjectAltName=DNS:localhost,IP:127.0.0.1\n");
  openssl(
    ...["x509", "-req", "-in", `${name}.csr`, "-CA", `${ca}.pem`, "-CAkey", `${ca}.key`, "-CAcreateserial"],
    ...["-out", `${name}.pem`, "-days", "2", "-extfile", `${name}.ext`],
  );
}

let site: Awaited<ReturnType<typeof newSite>>;
let gateway: Awaited<ReturnType<typeof startProcess>>;
beforeAll(async () => {
  makeCertificates("own-ca", "gateway");
  makeCertificates("other-ca", "other");
  site = await newSite(["press"]);
  await drumlin(["user", "add", "Mara", "--password-stdin", "--data", site.data], "brackish mornings\n");
  gateway = await startProcess(site, ["--tls-cert", file("gateway.pem"), "--tls-key", file("gateway.key")]);
});
afterAll(async () => {
  expect(await gateway.stop()).toBe(0);
});

interface Answer {
  readonly status: number;
  readonly cookie: string;
  readonly transport: string;
  readonly body: string;
}
function ask(
  path: string,
  ca: string,
  more: { method?: string; headers?: Record<string, string>; body?: string } = {},
) {
  return new Promise<Answer>((resolve, reject) => {
    const asked = request(
      {
        host: "127.0.0.1",
        port: gateway.http,
        path,
        ca: readFileSync(file(`${ca}.pem`)),
        method: more.method ?? "GET",
        headers: more.headers ?? {},
      },
      (answer) => {
        let body = "";
        answer.on("data", (chunk: Buffer) => (body += chunk.toString()));
        answer.on("end", () =>
          resolve({
            status: answer.statusCode ?? 0,
            cookie: answer.headers["set-cookie"]?.[0] ?? "",
            transport: answer.headers["strict-transport-security"] ?? "",
            body,
          }),
        );
      },
    );
    asked.on("error", reject);
    asked.end(more.body);
  });
}

function publish(ca: string, extra: readonly string[] = []) {
  return spawnSync(
    process.env.DRUMLIN_MOSQUITTO_PUB ?? "mosquitto_pub",
    [
      ...["-h", "localhost", "-p", String(gateway.mqtt), "--cafile", file(`${ca}.pem`), ...extra],
      ...["-u", "press", "-P", site.secrets.press as string, "-q", "1"],
      ...[
        "-t",
        "drumlin/1/saltmarsh-house/press/readings",
        "-m",
        '[{"n":"t-1","u":"Cel","v":25},{"n":"ec-1","u":"S/m","v":0.0412}]',
      ],
    ],
    { encoding: "utf8", timeout: 60_000 },
  );
}

describe("TLS with a private CA", () => {
  it("mosquitto_pub that knows the CA is heard; one that knows another is not", async () => {
    const right = publish("own-ca");
    expect([right.status, right.stderr]).toEqual([0, ""]);
    const line = await eventually(
      async () => {
        const { body } = await ask("/api/line", "own-ca", {
          headers: { authorization: `Bearer ${site.token}` },
        });
        return JSON.parse(body) as LineView;
      },
      (view) => view.points[0]?.conductivity25.value !== null,
    );
    expect(line.points[0]?.conductivity25.value).toBeCloseTo(412, 6);
    expect(publish("other-ca").status).not.toBe(0);
    const refused = async () => {
      const { body } = await ask("/api/rejections", "own-ca", {
        headers: { authorization: `Bearer ${site.token}` },
      });
      return (JSON.parse(body) as { items: { code: string }[] }).items.map(({ code }) => code);
    };
    await expect.poll(refused).toContain("tls-failed");
  });

  it("MQTT without TLS gets no answer", async () => {
    await expect(
      connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, { reconnectPeriod: 0, connectTimeout: 2000 }, false),
    ).rejects.toThrow();
  });

  it("https with the CA answers, with another it is refused, and plain http is closed", async () => {
    expect((await ask("/healthz", "own-ca")).status).toBe(200);
    await expect(ask("/healthz", "other-ca")).rejects.toThrow(/certificate/);
    await expect(fetch(`http://127.0.0.1:${gateway.http}/healthz`)).rejects.toThrow();
  });

  it("TLS 1.1 is not spoken", () => {
    const done = spawnSync(
      process.env.DRUMLIN_OPENSSL ?? "openssl",
      ["s_client", "-connect", `127.0.0.1:${gateway.http}`, "-tls1_1", "-cipher", "ALL:@SECLEVEL=0"],
      { encoding: "utf8", input: "", timeout: 60_000 },
    );
    expect(done.status).not.toBe(0);
    expect(`${done.stdout}${done.stderr}`).toMatch(
      /alert protocol version|no protocols available|Cipher is \(NONE\)/,
    );
  });

  it("the session's cookie goes by TLS only, to this machine only; the page's own origin is https", async () => {
    const signIn = (origin: string) =>
      ask("/api/sign-in", "own-ca", {
        method: "POST",
        headers: { "content-type": "application/json", origin },
        body: JSON.stringify({ name: "Mara", password: "brackish mornings" }),
      });
    expect((await signIn(`http://127.0.0.1:${gateway.http}`)).status).toBe(403);
    const { status, cookie, transport } = await signIn(`https://127.0.0.1:${gateway.http}`);
    expect(status).toBe(200);
    expect(transport).toBe("max-age=31536000");
    expect(cookie).toMatch(
      /^__Host-drumlin-\d+=[\w-]{43}; Path=\/; Max-Age=\d+; HttpOnly; SameSite=Strict; Secure$/,
    );
  });
});

describe("drumlin run refuses", () => {
  const run = (...more: string[]) =>
    drumlin(["run", "--line", site.line, "--data", join(folder, "data"), ...more]);
  it.each([
    ["another address without TLS", ["--http", "192.0.2.1:8080"], 2, "--plain-http"],
    ["a certificate without its key", ["--tls-cert", "gateway.pem"], 2, "go together"],
    ["TLS and plain at once", ["--tls-cert", "a", "--tls-key", "b", "--plain-http"], 2, "exclude"],
    [
      "another's key",
      ["--tls-cert", file("gateway.pem"), "--tls-key", file("other.key")],
      1,
      "no certificate and its key",
    ],
  ] as const)("%s", async (_name, more, code, words) => {
    const done = await run(...more);
    expect(done.code).toBe(code);
    expect(done.errors).toContain(words);
  });
});

describe("a certificate that is over, and a key that others can read", () => {
  it("are warned of, and used all the same", async () => {
    copyFileSync(file("gateway.key"), file("open.key"));
    chmodSync(file("open.key"), 0o644);
    const { tlsWarnings } = await import("@drumlin/gateway/app");
    const paths = { cert: file("gateway.pem"), key: file("gateway.key") };
    const dayMs = 86_400_000;
    const at = async (ms: number) => (await tlsWarnings(paths, ms)).join();
    // It is made for two days.
    expect(await at(Date.now())).toMatch(/gateway\.pem expires on 20\d\d-\d\d-\d\d\. Renew it\.$/);
    expect(await at(Date.now() + 3 * dayMs)).toMatch(/gateway\.pem expired on 20\d\d-\d\d-\d\d: browsers/);
    expect(await at(Date.now() - dayMs)).toContain("look at the clock");
    const own = await newSite(["press"]);
    const other = await startProcess(own, ["--tls-cert", paths.cert, "--tls-key", file("open.key")]);
    await expect
      .poll(other.printed)
      .toContain("open.key can be read by other users of this machine: chmod 600");
    await expect.poll(gateway.printed).toContain("gateway.pem expires on");
    expect(gateway.printed()).not.toContain("can be read by other users");
    expect(await other.stop()).toBe(0);
  });
});

describe("a broker of somebody else with a private CA", () => {
  it("is worked on with that CA, and refused with another", async () => {
    const mosquitto = await startMosquitto({ cert: file("gateway.pem"), key: file("gateway.key") });
    try {
      const own = await newSite(["press"]);
      const start = (ca: string) =>
        startProcess(own, ["--broker", mosquitto.url, "--broker-ca", file(`${ca}.pem`)]);
      await expect(start("other-ca")).rejects.toThrow(/certificate|can't be reached/);
      const working = await start("own-ca");
      const client = await connectAsync(mosquitto.url, { ca: readFileSync(file("own-ca.pem")) });
      await client.publishAsync(
        "drumlin/1/saltmarsh-house/press/readings",
        '[{"n":"t-1","u":"Cel","v":25},{"n":"ec-1","u":"S/m","v":0.0412}]',
        { qos: 1 },
      );
      const line = await eventually(
        () => working.json<LineView>("/api/line"),
        (view) => view.points[0]?.conductivity25.value !== null,
      );
      expect(line.points[0]?.conductivity25.value).toBeCloseTo(412, 6);
      await client.endAsync(true);
      expect(await working.stop()).toBe(0);
    } finally {
      await mosquitto.stop();
    }
  });
});
