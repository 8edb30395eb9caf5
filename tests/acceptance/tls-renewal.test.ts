import { spawnSync } from "node:child_process";
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { createServer } from "node:https";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connect, createSecureContext } from "node:tls";
import { createTlsLook, type TlsPaths, watchTls } from "@drumlin/gateway/app";
import { afterEach, beforeAll, describe, expect, it } from "vitest";

const folder = mkdtempSync(join(tmpdir(), "drumlin-renewal-"));
const file = (name: string) => join(folder, name);
const textOf = (name: string) => readFileSync(file(name), "utf8");

/** A certificate that signs itself, ECDSA P-256, for two days. */
function make(name: string): void {
  const key = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2"];
  const out = ["-keyout", `${name}.key`, "-out", `${name}.pem`, "-subj", `/CN=${name}`];
  const done = spawnSync(process.env.DRUMLIN_OPENSSL ?? "openssl", ["req", "-x509", ...key, ...out], {
    cwd: folder,
    encoding: "utf8",
  });
  if (done.status !== 0) throw new Error(done.stderr);
}
beforeAll(() => {
  make("first");
  make("second");
  writeFileSync(file("chain.pem"), textOf("second.pem") + textOf("first.pem"));
});

const ends: (() => void)[] = [];
afterEach(() => {
  for (const end of ends.splice(0)) end();
});

/** A watch of a pair of files that is in use as `first`; looked at 50 times a second. */
function watching(paths: TlsPaths, onRenewed: (cert: string) => void = () => {}) {
  const said: string[] = [];
  const taken: string[] = [];
  const end = watchTls(paths, {
    everyMs: 20,
    used: { cert: textOf("first.pem"), key: textOf("first.key") },
    renewed({ cert }) {
      onRenewed(cert);
      taken.push(cert);
    },
    log: (message) => said.push(message),
  });
  ends.push(end);
  return { said, taken };
}

/** The files of a pair, and a look in which the watch has seen them as they are: it reads them again when their time changes. */
function pair(name: string): TlsPaths {
  copyFileSync(file("first.pem"), file(`${name}.pem`));
  copyFileSync(file("first.key"), file(`${name}.key`));
  return { cert: file(`${name}.pem`), key: file(`${name}.key`) };
}
const aWhile = () => new Promise((resolve) => setTimeout(resolve, 150));

describe("a renewed certificate", () => {
  it("is taken once its key is there too, and once", async () => {
    const paths = pair("plain");
    const { said, taken } = watching(paths);
    copyFileSync(file("second.pem"), paths.cert);
    await expect.poll(() => said).toHaveLength(1);
    expect(said[0]).toMatch(
      /^tls: the old certificate stays: .*plain\.pem and .*plain\.key are no certificate/,
    );
    await aWhile();
    copyFileSync(file("second.key"), paths.key);
    await expect.poll(() => taken).toEqual([textOf("second.pem")]);
    // Only its time changes, as while it is still being written: nothing is new.
    utimesSync(paths.key, 1, 1);
    await aWhile();
    expect(taken).toHaveLength(1);
    expect(said).toEqual([said[0], `tls: ${paths.cert} was renewed`]);
  });

  it("that is half written, its chain cut, empty, or its key half there is not taken; why is said once each", async () => {
    const paths = pair("half");
    const { said, taken } = watching(paths);
    copyFileSync(file("second.key"), paths.key);
    const whole = textOf("chain.pem");
    const leaf = textOf("second.pem").length;
    const key = textOf("second.key");
    for (const cut of [0, 40, leaf / 2, leaf - 3, leaf + 60, whole.length - 40]) {
      writeFileSync(paths.cert, whole.slice(0, cut));
      await aWhile();
    }
    // The key first: a whole pair must not be there for a moment.
    writeFileSync(paths.key, key.slice(0, key.length / 2));
    writeFileSync(paths.cert, whole);
    await aWhile();
    expect(taken).toEqual([]);
    await expect.poll(() => said.length).toBeGreaterThan(0);
    expect(said.length).toBeLessThanOrEqual(8);
    writeFileSync(paths.key, key);
    await expect.poll(() => taken).toEqual([whole]);
  });

  it("by links that are put one after the other onto new files is taken", async () => {
    mkdirSync(file("archive"));
    for (const [name, number] of [
      ["first", 1],
      ["second", 2],
    ] as const) {
      copyFileSync(file(`${name}.pem`), file(`archive/cert${number}.pem`));
      copyFileSync(file(`${name}.key`), file(`archive/key${number}.pem`));
    }
    const link = (name: string, number: number) => {
      symlinkSync(`archive/${name}${number}.pem`, file("link.new"));
      renameSync(file("link.new"), file(`live-${name}.pem`));
    };
    link("cert", 1);
    link("key", 1);
    const { said, taken } = watching({ cert: file("live-cert.pem"), key: file("live-key.pem") });
    await aWhile();
    link("cert", 2);
    await aWhile();
    expect(taken).toEqual([]);
    link("key", 2);
    await expect.poll(() => taken).toEqual([textOf("second.pem")]);
    expect(said.at(-1)).toContain("was renewed");
  });

  it("is taken after its files were gone for a while, also where they were when the watch began; that is said once", async () => {
    const paths = pair("gone");
    rmSync(paths.cert);
    const { said, taken } = watching(paths);
    await expect.poll(() => said).toHaveLength(1);
    expect(said[0]).toContain("ENOENT");
    await aWhile();
    expect(said).toHaveLength(1);
    // What was in use comes back: nothing is new.
    copyFileSync(file("first.pem"), paths.cert);
    await aWhile();
    expect(taken).toEqual([]);
    rmSync(paths.key);
    copyFileSync(file("second.pem"), paths.cert);
    await expect.poll(() => said).toHaveLength(2);
    copyFileSync(file("second.key"), paths.key);
    await expect.poll(() => taken).toEqual([textOf("second.pem")]);
  });

  it("that one look finds half written and the next one whole is not complained of; what stays so is, once", async () => {
    const paths = pair("between");
    const said: string[] = [];
    const look = createTlsLook(paths, {
      used: { cert: textOf("first.pem"), key: textOf("first.key") },
      renewed: () => {},
      log: (message) => said.push(message),
    });
    await look();
    const key = textOf("second.key");
    copyFileSync(file("second.pem"), paths.cert);
    await look();
    writeFileSync(paths.key, key.slice(0, key.length / 2));
    await look();
    expect(said).toEqual([]);
    await look();
    await look();
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/no certificate and its key/);
    writeFileSync(paths.key, "");
    await look();
    writeFileSync(paths.key, key);
    await look();
    expect(said.slice(1)).toEqual([`tls: ${paths.cert} was renewed`]);
  });

  it("between the start and the first look is taken", async () => {
    const paths = pair("early");
    copyFileSync(file("second.pem"), paths.cert);
    copyFileSync(file("second.key"), paths.key);
    const { taken } = watching(paths);
    await expect.poll(() => taken).toEqual([textOf("second.pem")]);
  });

  it("that a listener could not take is given to it again; connections that are open go on, new ones see it", async () => {
    const paths = pair("served");
    const used = { cert: textOf("first.pem"), key: textOf("first.key") };
    const server = createServer(used, (_request, response) => response.end("ok")).listen(0, "127.0.0.1");
    await new Promise((resolve) => server.once("listening", resolve));
    const { port } = server.address() as AddressInfo;
    const open = () => {
      const socket = connect({ port, host: "127.0.0.1", rejectUnauthorized: false });
      return new Promise<{ name: string; socket: typeof socket }>((resolve, reject) => {
        socket.once("error", reject);
        socket.once("secureConnect", () =>
          resolve({ name: String(socket.getPeerCertificate().subject.CN), socket }),
        );
      });
    };
    const before = await open();
    expect(before.name).toBe("first");
    let tries = 0;
    const { taken } = watching(paths, (cert) => {
      tries += 1;
      if (tries === 1) throw new Error("not now");
      server.setSecureContext({ cert, key: textOf("second.key") });
    });
    copyFileSync(file("second.key"), paths.key);
    copyFileSync(file("second.pem"), paths.cert);
    await expect.poll(() => taken).toHaveLength(1);
    expect(tries).toBe(2);
    const after = await open();
    expect(after.name).toBe("second");
    expect(before.socket.destroyed).toBe(false);
    before.socket.destroy();
    after.socket.destroy();
    server.close();
    expect(createSecureContext({ cert: textOf("second.pem"), key: textOf("second.key") })).toBeDefined();
  });
});
