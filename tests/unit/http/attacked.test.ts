import { once } from "node:events";
import { mkdtempSync } from "node:fs";
import { connect, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { createHttp } from "@drumlin/gateway/http";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { noComponents } from "./no-components.ts";

const accounts = openAccounts({
  folder: mkdtempSync(join(tmpdir(), "drumlin-attacked-")),
  now: Date.now,
  cost: { log2N: 4, r: 8, p: 1 },
});
const wall = { authorization: `Bearer ${accounts.tokens.add("wall", "viewer", "test")}` };
const desk = { authorization: `Bearer ${accounts.tokens.add("desk", "viewer", "test")}` };
const refused: string[] = [];
const logged: string[] = [];
let http: Awaited<ReturnType<typeof createHttp>>;
const sockets: Socket[] = [];

beforeAll(async () => {
  await accounts.people.add({ name: "Mara", role: "operator", password: "brackish mornings", by: "test" });
  http = await createHttp(
    {
      ...noComponents(accounts),
      lineView: () => {
        throw new Error("the board fell over");
      },
    },
    {
      host: "127.0.0.1",
      port: 0,
      pages: null,
      log: (message) => logged.push(message),
      onRefused: (code) => refused.push(code),
    },
  );
});
afterEach(() => {
  for (const socket of sockets.splice(0)) socket.destroy();
  refused.length = 0;
});
afterAll(async () => {
  await http.stop();
  accounts.close();
});

const url = (path: string) => `http://127.0.0.1:${http.port}${path}`;
const ask = (path: string, init: RequestInit = {}) =>
  fetch(url(path), { ...init, signal: AbortSignal.timeout(60_000) });

/** A connection that writes text as it is; what comes back is kept, unless it does not read. */
function raw(reads = true) {
  const socket = connect(http.port, "127.0.0.1");
  sockets.push(socket);
  const state = { socket, text: "", closed: false };
  if (reads) socket.on("data", (chunk: Buffer) => (state.text += chunk.toString()));
  socket.on("error", () => {});
  socket.on("close", () => (state.closed = true));
  return state;
}

async function healthMs(): Promise<number> {
  const beganMs = performance.now();
  expect((await ask("/healthz")).status).toBe(200);
  return performance.now() - beganMs;
}

describe("every answer", () => {
  it.each([
    ["/healthz", {}],
    ["/api/nothing", {}],
    ["/%zz", {}],
    ["/api/line", { headers: wall }],
    ["/api/people", { headers: wall }],
    ["/api/docs", { headers: wall }],
    ["/api/live", { headers: desk }],
  ] as [string, RequestInit][])("%s has nosniff and CSP; no cache keeps the API's", async (path, init) => {
    const answer = await ask(path, init);
    expect(answer.headers.get("x-content-type-options")).toBe("nosniff");
    expect(answer.headers.get("content-security-policy")).toContain("frame-ancestors 'none'");
    expect(answer.headers.get("strict-transport-security")).toBeNull();
    if (path.startsWith("/api")) expect(answer.headers.get("cache-control")).toBe("no-store");
    await answer.body?.cancel();
  });

  it.each([
    ["no HTTP", "\u0010\u0020MQTT\r\n\r\n", 400, "request-broken"],
    ["headers over 16 KiB", `GET / HTTP/1.1\r\nx: ${"y".repeat(20_000)}\r\n\r\n`, 431, "headers-too-long"],
  ])("of what can't be read (%s) has them too, and a name and a count", async (_what, text, status, code) => {
    const client = raw();
    client.socket.write(text);
    await expect.poll(() => client.closed).toBe(true);
    expect(client.text).toContain(`HTTP/1.1 ${status} `);
    expect(client.text).toContain("x-content-type-options: nosniff");
    expect(client.text).toContain(`"code":"${code}"`);
    expect(refused).toEqual([code]);
  });

  it("to an error that nobody expected carries an id, under which the log tells it", async () => {
    const answer = await ask("/api/line?secret=1", { headers: wall });
    const { code, instance, detail } = (await answer.json()) as Record<string, string>;
    expect([answer.status, code]).toEqual([500, "internal"]);
    const id = instance?.replace("urn:uuid:", "") ?? "";
    expect(detail).toContain(id);
    const line = logged.find((message) => message.includes(id)) ?? "";
    expect(line).toMatch(/^http: [0-9a-f-]{36} GET \/api\/line: Error: the board fell over\n {4}at /);
    expect(detail).not.toContain("board");
    expect(line).not.toContain("secret");
  });
});

describe("nobody, and a viewer, can't close the page to others", () => {
  /** Connections that are there, a queue at a time: what the system drops beyond it comes a second later, or 15. */
  async function manyOpened(count: number) {
    const opened: ReturnType<typeof raw>[] = [];
    while (opened.length < count) {
      const some = Array.from({ length: Math.min(400, count - opened.length) }, () => raw());
      await Promise.all(some.map(({ socket }) => once(socket, "connect")));
      opened.push(...some);
    }
    return opened;
  }

  it("1,500 idle connections give way, and hold up nobody", async () => {
    const idle = await manyOpened(1500);
    // Held up by them it would take until they are over, a minute; a busy machine takes some seconds.
    expect(await healthMs()).toBeLessThan(10_000);
    const left = () => idle.filter(({ closed }) => !closed).length;
    await expect.poll(left).toBeLessThanOrEqual(1100);
    expect(new Set(refused)).toEqual(new Set(["connections-too-many"]));
    // The one that asked whether the gateway lives may have gone meanwhile, or taken one more place.
    expect([400, 401]).toContain(refused.length);
  });

  it("a connection on which somebody was known stays while others come", async () => {
    const known = raw();
    known.socket.write(`GET /api/alarms HTTP/1.1\r\nhost: x\r\nauthorization: ${wall.authorization}\r\n\r\n`);
    await expect.poll(() => known.text).toContain("HTTP/1.1 200");
    await manyOpened(1200);
    await expect.poll(() => refused.length).toBeGreaterThanOrEqual(100);
    expect(known.closed).toBe(false);
  });

  it("answers that nobody reads don't pile up: over eight requests at once end the connection", async () => {
    const client = raw(false);
    const request = `GET /api/docs HTTP/1.1\r\nhost: x\r\nauthorization: ${wall.authorization}\r\n\r\n`;
    client.socket.write(request.repeat(500));
    await expect.poll(() => refused).toContain("pipelined-too-many");
    expect(refused.filter((code) => code === "pipelined-too-many")).toHaveLength(1);
    client.socket.resume();
    await expect.poll(() => client.closed).toBe(true);
    // And what was under way is no longer counted against its program.
    for (let number = 0; number < 120; number += 1)
      expect((await ask("/api/alarms", { headers: wall })).status).toBe(200);
  });

  it("one program has twenty streams; another one has its own", async () => {
    const aborts = new AbortController();
    const open = (headers: Record<string, string>) =>
      fetch(url("/api/live"), { headers, signal: aborts.signal });
    const answers = await Promise.all(Array.from({ length: 25 }, () => open(wall)));
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(20);
    expect(answers.filter(({ status }) => status === 503)).toHaveLength(5);
    expect((await open(desk)).status).toBe(200);
    aborts.abort();
    const again = async () => {
      const answer = await ask("/api/live", { headers: wall });
      await answer.body?.cancel();
      return answer.status;
    };
    await expect.poll(again).toBe(200);
    // HEAD has no body to wait for: it opens no stream that nobody would end.
    expect((await ask("/api/live", { headers: wall, method: "HEAD" })).status).toBe(404);
  });

  it("a line file that takes seconds to check is given up, and nothing waits for it meanwhile", async () => {
    const yaml = `drumlin: 1\nsite: s\n${Array.from({ length: 5500 }, (_, index) => `k${index}: 1`).join("\n")}`;
    const post = { method: "POST", headers: { ...wall, "content-type": "application/json" } };
    const check = (text: string) => ask("/api/line/check", { ...post, body: JSON.stringify({ yaml: text }) });
    // The thread is there, and does its work.
    expect(await (await check("drumlin: 1\n")).json()).toMatchObject({ ok: false });
    const first = check(yaml);
    // Its body has come whole before the others ask.
    await healthMs();
    const heavy = Promise.all([first, ...Array.from({ length: 6 }, () => check("drumlin: 1\n"))]);
    // This thread's own processor time: a check on it would cost it seconds; what else the machine does is no fault of it.
    const before = process.threadCpuUsage();
    for (let number = 0; number < 20; number += 1) await healthMs();
    const { user, system } = process.threadCpuUsage(before);
    expect((user + system) / 1000).toBeLessThan(500);
    const statuses = (await heavy).map(({ status }) => status);
    // Four wait, and the thread has one more; whether that is done in time goes by the machine.
    expect([200, 422]).toContain(statuses[0]);
    expect(statuses.slice(1).sort()).toEqual([200, 200, 200, 200, 429, 429]);
    const small = await check("drumlin: 1\nsite: s\npoints: { a: {} }\n");
    expect(await small.json()).toMatchObject({ ok: true });
  });

  it("a formula is worked out off the main thread, with its own words where it refuses", async () => {
    const post = { method: "POST", headers: { ...wall, "content-type": "application/json" } };
    const answer = await ask("/api/compute/theil-sen", { ...post, body: '{"x":[1,2,3],"y":[2,4,6]}' });
    expect(await answer.json()).toMatchObject({ formula: "theil-sen", values: { slope: 2 } });
    const wrong = await ask("/api/compute/theil-sen", { ...post, body: "{}" });
    expect(wrong.status).toBe(400);
  });
});
