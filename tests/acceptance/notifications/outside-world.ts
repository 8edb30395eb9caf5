import { spawnSync } from "node:child_process";
import { createECDH } from "node:crypto";
import { mkdtempSync, readFileSync } from "node:fs";
import { createServer as createPlain } from "node:http";
import { createServer as createTls } from "node:https";
import { tmpdir } from "node:os";
import { join } from "node:path";
import ece from "http_ece";
import { SMTPServer } from "smtp-server";

/** A certificate signed by its own key, for this machine if no other names are given. */
export function ownCertificate(names = "IP:127.0.0.1"): { readonly cert: string; readonly key: string } {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-cert-"));
  const key = "-newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -keyout key".split(" ");
  const subject = ["-subj", "/CN=here", "-addext", `subjectAltName=${names}`];
  const done = spawnSync(
    process.env.DRUMLIN_OPENSSL ?? "openssl",
    ["req", "-x509", "-days", "2", ...key, ...subject, "-out", "pem"],
    { cwd: folder, encoding: "utf8" },
  );
  if (done.status !== 0) throw new Error(done.stderr);
  return { cert: readFileSync(join(folder, "pem"), "utf8"), key: readFileSync(join(folder, "key"), "utf8") };
}

/** A mail as its server took it. */
interface GotMail {
  readonly atMs: number;
  readonly to: string;
  readonly text: string;
}

/** A mail server that asks for STARTTLS and a password. */
export async function mailServer(tls: { readonly cert: string; readonly key: string }, password: string) {
  const got: GotMail[] = [];
  const server = new SMTPServer({
    ...tls,
    logger: false,
    disableReverseLookup: true,
    onAuth: (auth, _session, done) =>
      auth.password === password
        ? done(null, { user: "drumlin" })
        : done(Object.assign(new Error("no"), { responseCode: 535 })),
    onData(stream, session, done) {
      const parts: Buffer[] = [];
      stream.on("data", (part: Buffer) => parts.push(part));
      stream.on("end", () => {
        const text = Buffer.concat(parts).toString("utf8").replaceAll("=\r\n", "").replaceAll("=3D", "=");
        got.push({ atMs: Date.now(), to: session.envelope.rcptTo[0]?.address ?? "", text });
        done(null);
      });
    },
  });
  server.on("error", () => {});
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    got,
    port: (server.server.address() as { port: number }).port,
    close: () => new Promise<void>((resolve) => server.close(() => resolve())),
  };
}

/** Somebody outside who expects a sign of life. */
export async function pingReceiver() {
  const heard: string[] = [];
  const server = createPlain((request, response) => {
    heard.push(`${request.method} ${request.url}`);
    response.writeHead(204).end();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    heard,
    port: (server.address() as { port: number }).port,
    close: () => new Promise<void>((resolve) => server.close(() => resolve())),
  };
}

/** A push message as its device reads it. */
interface GotPush {
  readonly atMs: number;
  readonly title: string;
  readonly attention: string;
}

/** A push service over TLS with one device, which decrypts what it is sent. */
export async function pushService(tls: { readonly cert: string; readonly key: string }) {
  const device = createECDH("prime256v1");
  device.generateKeys();
  const auth = Buffer.alloc(16, 9).toString("base64url");
  const got: GotPush[] = [];
  let status = 201;
  const server = createTls(tls, (request, response) => {
    const parts: Buffer[] = [];
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const plain = ece.decrypt(Buffer.concat(parts), {
        version: "aes128gcm",
        privateKey: device,
        authSecret: auth,
      });
      got.push({
        atMs: Date.now(),
        ...(JSON.parse(plain.toString()) as { title: string; attention: string }),
      });
      response.writeHead(status).end();
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as { port: number };
  return {
    got,
    answer(next: number): void {
      status = next;
    },
    subscription: {
      endpoint: `https://127.0.0.1:${port}/send/1`,
      keys: { p256dh: device.getPublicKey("base64url"), auth },
    },
    close: () => new Promise<void>((resolve) => server.close(() => resolve())),
  };
}
