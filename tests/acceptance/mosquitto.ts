import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, writeFileSync } from "node:fs";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

/**
 * A loopback port that is free now. It lies under those that systems give out by themselves (from 32768 on Linux, 49152
 * by RFC 6335): nothing that is started meanwhile is given it, nor does a client that tries it connect to itself.
 */
export async function freePort(): Promise<number> {
  for (;;) {
    // Over 10080, the last of those that browsers and fetch refuse.
    const port = 11_000 + Math.floor(Math.random() * 20_000);
    const probe = createServer();
    const isFree = await new Promise<boolean>((resolve) => {
      probe.once("error", () => resolve(false));
      probe.listen(port, "127.0.0.1", () => probe.close(() => resolve(true)));
    });
    if (isFree) return port;
  }
}

function answers(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1", () => {
      socket.destroy();
      resolve(true);
    });
    socket.on("error", () => resolve(false));
  });
}

/** The Mosquitto of this machine. */
export const mosquittoProgram =
  process.env.DRUMLIN_MOSQUITTO ??
  ["/usr/sbin/mosquitto", "/usr/bin/mosquitto"].find((path) => existsSync(path)) ??
  "mosquitto";

/** A real Mosquitto, with TLS where a certificate is given, on a loopback port of its own, that keeps sessions and what waits in them over a restart. `denied` are topics that it passes on to nobody, and says so to nobody; `more` are lines of its own words. */
export async function startMosquitto(
  tls: { readonly cert: string; readonly key: string } | null = null,
  mostQueued = 0,
  denied: readonly string[] = [],
  more: readonly string[] = [],
) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-mosquitto-"));
  const port = await freePort();
  const file = join(folder, "mosquitto.conf");
  const rules = join(folder, "rules");
  writeFileSync(rules, ["topic readwrite #", ...denied.map((topic) => `topic deny ${topic}`), ""].join("\n"));
  // As root it would change to a user that may not write here.
  writeFileSync(
    file,
    `${process.getuid?.() === 0 ? "user root\n" : ""}persistence true\npersistence_location ${folder}/\nmax_queued_messages ${mostQueued}\nmax_inflight_messages ${mostQueued > 0 ? 10 : 1000}\nlistener ${port} 127.0.0.1\n${more.some((line) => line.startsWith("password_file")) ? "" : "allow_anonymous true\n"}${more.map((line) => `${line}\n`).join("")}${tls ? `certfile ${tls.cert}\nkeyfile ${tls.key}\n` : ""}${denied.length > 0 ? `acl_file ${rules}\n` : ""}`,
  );
  let child: ChildProcess;
  async function start(): Promise<void> {
    child = spawn(mosquittoProgram, ["-c", file], { stdio: "ignore" });
    for (let attempt = 0; attempt < 1200; attempt += 1) {
      if (await answers(port)) return;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    throw new Error("Mosquitto did not start.");
  }
  const end = (signal: NodeJS.Signals) =>
    new Promise<void>((resolve) => {
      if (child.exitCode !== null || child.signalCode !== null) resolve();
      child.once("exit", () => resolve());
      child.kill(signal);
    });
  await start();
  return {
    port,
    url: tls ? `mqtts://localhost:${port}` : `mqtt://127.0.0.1:${port}`,
    async restart() {
      await end("SIGTERM");
      await start();
    },
    /** As a power loss: what it had not written yet is gone. */
    async killAndStart() {
      await end("SIGKILL");
      await start();
    },
    stop: () => end("SIGTERM"),
  };
}
