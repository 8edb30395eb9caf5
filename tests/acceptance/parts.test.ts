import { spawn, spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { createServer } from "node:net";
import type { Worker } from "node:worker_threads";
import { openAccounts } from "@drumlin/gateway/accounts";
import { startGateway } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { afterEach, describe, expect, it } from "vitest";
import { eventually, gatewayArguments, newSite, smallestLine, startProcess } from "./gateway-process.ts";

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

/** How long something takes, ms. */
async function timed<Result>(
  work: Promise<Result>,
): Promise<{ readonly result: Result; readonly ms: number }> {
  const beganMs = performance.now();
  const result = await work;
  return { result, ms: performance.now() - beganMs };
}

/** Starts a gateway that can't start; gives what it says and how long after that it is still there. */
async function failing(site: { readonly line: string; readonly data: string }, more: readonly string[]) {
  const child = spawn(process.execPath, gatewayArguments(site, more), { stdio: ["ignore", "pipe", "pipe"] });
  ends.push(() => child.kill("SIGKILL"));
  let said = "";
  let saidAtMs = 0;
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (chunk: Buffer) => {
      saidAtMs ||= performance.now();
      said += chunk.toString();
    });
  const code = await new Promise<number | null>((resolve) => child.on("close", resolve));
  return { code, said, hungMs: performance.now() - saidAtMs };
}

async function takenPort(): Promise<number> {
  const server = createServer().listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  ends.push(() => server.close());
  return (server.address() as { port: number }).port;
}

describe("a part that can't start", () => {
  it.each(["MQTT", "HTTP"])(
    "the %s port is taken: one plain sentence, the process ends, the rest is undone",
    async (door) => {
      const site = await newSite([]);
      const port = await takenPort();
      const { code, said, hungMs } = await failing(site, [`--${door.toLowerCase()}`, `127.0.0.1:${port}`]);
      expect(code).toBe(1);
      expect(said).toBe(
        `drumlin run: ${door}: 127.0.0.1:${port} is taken by another program. End that one, or choose another port.\n`,
      );
      expect(hungMs).toBeLessThan(9000);
      const gateway = await startProcess(site);
      expect(await gateway.stop()).toBe(0);
    },
  );

  it("a file stands where the data folder should be", async () => {
    const site = await newSite([]);
    const data = `${site.data}-file`;
    writeFileSync(data, "");
    const { code, said, hungMs } = await failing({ ...site, data }, []);
    expect(code).toBe(1);
    expect(said).toBe(`drumlin run: journal: ${data} is in the way: a folder is needed there.\n`);
    expect(hungMs).toBeLessThan(9000);
  });
});

describe("a disk that takes nothing any more", () => {
  it("the gateway is not ready by name, acts are answered, and SIGTERM ends it within 10 s", async () => {
    const site = await newSite(["press"]);
    const accounts = openAccounts({ folder: site.data, now: Date.now });
    await accounts.people.add({ name: "Wren", role: "operator", password: "eel grass by night", by: "test" });
    accounts.close();
    const gateway = await startProcess(site);
    ends.push(() => gateway.kill());
    const client = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
      username: "press",
      password: site.secrets.press as string,
      reconnectPeriod: 0,
    });
    ends.push(() => client.end(true));
    // No file of it may grow past this: a full disk for this process alone.
    expect(spawnSync("prlimit", ["--pid", String(gateway.pid), "--fsize=200000"]).status).toBe(0);
    let n = 0;
    const filling = setInterval(() => {
      for (let k = 0; k < 20; k += 1) {
        n += 1;
        client.publish(
          "drumlin/1/saltmarsh-house/press/readings",
          JSON.stringify([{ boot: 1, seq: n, n: "ec-1", u: "S/m", v: 0.04 }]),
          { qos: 1 },
        );
      }
    }, 20);
    ends.push(() => clearInterval(filling));
    const readiness = () => gateway.api("/readyz");
    const notReady = await eventually(readiness, ({ status }) => status === 503);
    expect(await notReady.json()).toMatchObject({
      code: "not-ready",
      detail: "journal: the disk does not take it",
    });
    const note = { method: "POST", headers: { "content-type": "application/json" }, body: '{"text":"full"}' };
    const { result: answer, ms } = await timed(gateway.api("/api/notes", note));
    expect(await answer.json()).toMatchObject({ status: 503, code: "act-not-written-yet" });
    expect(ms).toBeLessThan(10_000);
    // Not even the accounts, which are small, find room.
    expect(spawnSync("prlimit", ["--pid", String(gateway.pid), "--fsize=4096"]).status).toBe(0);
    const signIn = (password: string) =>
      fetch(`http://127.0.0.1:${gateway.http}/api/sign-in`, {
        method: "POST",
        headers: { "content-type": "application/json", origin: `http://127.0.0.1:${gateway.http}` },
        body: JSON.stringify({ name: "Wren", password }),
      });
    expect(await (await signIn("not that one")).json()).toMatchObject({ code: "sign-in-wrong" });
    const signedIn = await signIn("eel grass by night");
    expect(signedIn.status).toBe(200);
    const cookie = signedIn.headers
      .getSetCookie()
      .map((one) => one.split(";")[0])
      .join("; ");
    const me = await fetch(`http://127.0.0.1:${gateway.http}/api/me`, { headers: { cookie } });
    expect(await me.json()).toMatchObject({ signedIn: { name: "Wren", role: "operator" } });
    await expect
      .poll(gateway.printed)
      .toMatch(/accounts: the disk does not take changes: .*forgotten at the next start/);
    const change = await gateway.api("/api/tokens", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: '{"name":"display","role":"viewer"}',
    });
    expect(await change.json()).toMatchObject({ status: 503, code: "accounts-not-written" });
    const stopped = await timed(gateway.stop());
    expect(stopped.ms).toBeLessThan(10_000);
  });
});

describe("a thread that ends by itself", () => {
  const known: SeriesRow = { series: "point/supply/conductivity25", tMs: 1, value: 0.04, flag: 1 };
  async function house() {
    const site = await newSite([]);
    const store = await openSqliteSeries({ folder: site.data });
    await store.write([known]);
    await store.close();
    const threads = new Map<string, Worker[]>();
    const fatal: string[] = [];
    /** Parts whose new threads are ended too: what must be asked while they are away takes its time. */
    const heldDown = new Set<string>();
    const gateway = await startGateway({
      data: site.data,
      lineYaml: smallestLine,
      http: { host: "127.0.0.1", port: 0 },
      mqtt: { host: "127.0.0.1", port: 0 },
      onThread(part, worker) {
        threads.set(part, [...(threads.get(part) ?? []), worker]);
        if (heldDown.has(part)) void worker.terminate();
      },
      onFatal: (why) => fatal.push(why),
      log: () => {},
    });
    ends.push(() => gateway.stop());
    const ask = (path: string, body?: object) =>
      fetch(`http://127.0.0.1:${gateway.httpPort}${path}`, {
        headers: { authorization: `Bearer ${site.token}`, "content-type": "application/json" },
        ...(body ? { method: "POST", body: JSON.stringify(body) } : {}),
      });
    return { gateway, threads, heldDown, fatal, ask };
  }
  const series = "/api/points/supply/series?quantity=conductivity25";

  it("of the series: not ready by name, nothing hangs, and it is started again", async () => {
    const { threads, heldDown, ask, gateway } = await house();
    expect((await ask("/readyz")).status).toBe(200);
    // Its reading thread comes with the first question.
    expect((await ask(series)).status).toBe(200);
    heldDown.add("series");
    await Promise.all((threads.get("series") ?? []).map((worker) => worker.terminate()));
    const readiness = await ask("/readyz");
    expect(readiness.status).toBe(503);
    expect(await readiness.json()).toMatchObject({
      detail: "series: its thread has ended and is started again",
    });
    expect((await ask(series)).status).toBe(500);
    heldDown.clear();
    expect(
      await eventually(
        async () => gateway.notReady(),
        (why) => why === null,
      ),
    ).toBeNull();
    expect((await ask(series)).status).toBe(200);
  });

  it("of the journal: not ready by name, acts are refused by name, whoever started the gateway is told why it must end", async () => {
    const { threads, ask, gateway, fatal } = await house();
    await threads.get("journal")?.[0]?.terminate();
    expect(await (await ask("/readyz")).json()).toMatchObject({
      status: 503,
      detail: "journal: its thread has ended",
    });
    expect(await (await ask("/api/notes", { text: "x" })).json()).toMatchObject({
      status: 503,
      code: "journal-failed",
    });
    expect(fatal).toHaveLength(1);
    expect(fatal[0]).toContain("Start the gateway again.");
    const { ms } = await timed(gateway.stop());
    expect(ms).toBeLessThan(9000);
  });
});

describe("a derivation under way", () => {
  const firstMs = Date.UTC(2026, 2, 3);
  const calibration = {
    channel: "press/ec-1",
    validFrom: new Date(firstMs).toISOString(),
    points: [{ read: 400, true: 800 }],
  };
  /** A house with a long past, and a calibration for all of it: its derivation takes a while. */
  async function deriving() {
    const site = await newSite([]);
    const store = await openSqliteSeries({ folder: site.data });
    for (let from = 0; from < 160_000; from += 20_000)
      await store.write(
        Array.from(
          { length: 20_000 },
          (_, k): SeriesRow => ({
            series: "reading/press/ec-1[S/m]",
            tMs: firstMs + (from + k) * 1000,
            value: 0.04,
            flag: 1,
          }),
        ),
      );
    await store.close();
    // The line was in force already, as an earlier text: before its first line nothing is known of a channel.
    const logbook = openLogbook({ folder: site.data });
    logbook.record([{ kind: "line", seq: 0, atMs: firstMs - 1000, yaml: `${smallestLine}# as it was\n` }]);
    logbook.close();
    const gateway = await startProcess(site);
    ends.push(() => gateway.kill());
    const answer = await gateway.api("/api/calibrations", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(calibration),
    });
    expect(answer.status).toBe(200);
    return { site, gateway };
  }
  const finished = async (site: Awaited<ReturnType<typeof newSite>>) => {
    const again = await startProcess(site);
    ends.push(() => again.kill());
    await eventually(
      async () => again.printed(),
      (text) => text.includes("derived since"),
    );
    expect(again.printed()).toContain("derived since 2026-03-03T00:00:00.000Z: 320000 measurements");
    expect(await again.stop()).toBe(0);
    const third = await startProcess(site);
    expect(await third.stop()).toBe(0);
    expect(third.printed()).not.toContain("derive");
  };

  it("SIGTERM ends it in time; the next start goes on with it, once", async () => {
    const { site, gateway } = await deriving();
    const { result: code, ms } = await timed(gateway.stop());
    expect(code).toBe(0);
    expect(ms).toBeLessThan(10_000);
    expect(gateway.printed()).toContain("derive: given up by the stop; it goes on after the next start");
    await finished(site);
  });

  it("a kill loses nothing of it", async () => {
    const { site, gateway } = await deriving();
    await gateway.kill();
    await finished(site);
  });
});
