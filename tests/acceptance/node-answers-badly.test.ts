// Nodes that answer what nobody asked, or not as they should; people who may not ask; a broker that keeps requests back.
import type { NodeView } from "@drumlin/gateway/contract";
import { connectAsync, type MqttClient } from "mqtt";
import { afterEach, expect, it, vi } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { endAll, ends } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });
afterEach(endAll);

const base = "drumlin/1/saltmarsh-house";
type Said = Readonly<Record<string, unknown>>;

/** A gateway on its own broker, or on a Mosquitto that passes nothing on under `denied`; the node press, of boot 17. */
async function house(denied: readonly string[] | null = null) {
  const site = await newSite(["press", "drums"]);
  const mosquitto = denied ? await startMosquitto(null, 0, denied) : null;
  if (mosquitto) ends.push(() => mosquitto.stop());
  const gateway = await startProcess(site, mosquitto ? ["--broker", mosquitto.url] : []);
  ends.push(() => gateway.stop());
  async function node(name: "press" | "drums"): Promise<MqttClient> {
    const client = await connectAsync(mosquitto?.url ?? `mqtt://127.0.0.1:${gateway.mqtt}`, {
      // A Mosquitto's rules without a name in them are those of whoever has none.
      ...(mosquitto ? {} : { username: name, password: site.secrets[name] as string }),
      clientId: name,
    });
    client.on("error", () => {});
    ends.push(() => client.endAsync(true));
    return client;
  }
  const view = async (id = "press") =>
    (await gateway.json<{ items: NodeView[] }>("/api/nodes")).items.find((one) => one.id === id);
  const press = await node("press");
  const heard: Said[] = [];
  press.on("message", (_topic, payload) => heard.push(JSON.parse(payload.toString())));
  await press.subscribeAsync(`${base}/press/request`);
  const sayPresence = (said: Said) =>
    press.publishAsync(`${base}/press/presence`, JSON.stringify({ boot: 17, ...said }), {
      qos: 1,
      retain: true,
    });
  await sayPresence({ state: "online", period_s: 60, requests: ["report-now", "identify"] });
  await eventually(view, (one) => one?.online === true && one.requests.length > 0);
  /** Its status and what it said; `id` as it stands in the address. */
  async function ask(id: string, kind = "identify", headers: Readonly<Record<string, string>> = {}) {
    const answer = await gateway.api(`/api/nodes/${id}/request`, {
      method: "POST",
      headers: { "content-type": "application/json", ...headers },
      body: JSON.stringify({ kind }),
    });
    return [answer.status, (await answer.json()) as Said] as const;
  }
  const isAsked = (times = 1) =>
    eventually(
      async () => heard.length,
      (count) => count >= times,
    );
  const answers = (said: Said | string, by = press, name = "press", retain = false) =>
    by.publishAsync(`${base}/${name}/response`, typeof said === "string" ? said : JSON.stringify(said), {
      qos: 1,
      retain,
    });
  /** Answers that had no effect, by why. */
  async function useless(): Promise<Readonly<Record<string, number>>> {
    const metrics = await (await gateway.api("/metrics")).text();
    const found = metrics.matchAll(/^drumlin_node_answers_without_effect_total\{why="([^"]+)"\} (\d+)$/gm);
    return Object.fromEntries([...found].map(([, why, count]) => [why, Number(count)]));
  }
  return { site, mosquitto, gateway, node, press, view, heard, ask, isAsked, answers, useless, sayPresence };
}

it("answers that are huge, broken, of another start, of another node, again or late have a name each, and lose nothing else", async () => {
  const { gateway, node, press, view, heard, ask, isAsked, answers, useless } = await house();
  const drums = await node("drums");
  const asked = ask("press");
  await isAsked();
  const id = heard[0]?.id;
  const good = { id, boot: 17, result: "done" };
  const broken = [
    JSON.stringify({ ...good, more: "x".repeat(60_000) }),
    "",
    "null",
    "[]",
    "[".repeat(500),
    JSON.stringify({ ...good, id: "i".repeat(65) }),
    JSON.stringify({ ...good, boot: 1.5 }),
    JSON.stringify({ ...good, result: "maybe" }),
    JSON.stringify({ ...good, result: "refused", reason: "No lamp!" }),
  ];
  let packs = 0;
  const reads = () =>
    press.publishAsync(
      `${base}/press/readings`,
      JSON.stringify([{ boot: 17, seq: ++packs, up: packs, n: "ec-1", u: "S/m", v: 0.04 }]),
      { qos: 1 },
    );
  for (const one of broken) {
    await answers(one);
    await reads();
  }
  // Longer than any message may be.
  await answers("y".repeat(65_537));
  await answers({ ...good, boot: 16 });
  await answers(good, drums, "drums");
  expect(await useless()).toEqual({ "not-understood": broken.length, "another-boot": 1, "not-asked": 1 });
  await answers(good, press, "press", true);
  expect((await asked)[0]).toBe(200);
  await answers(good);
  await answers(good, drums, "drums");
  expect(await useless()).toMatchObject({ "not-asked": 2, repeated: 1 });

  expect(await ask("press")).toMatchObject([504, { code: "node-gave-no-answer" }]);
  const late = { id: heard[1]?.id, boot: 17, result: "done" };
  await answers(late);
  await answers(late, drums, "drums");
  for (let more = 0; more < 200; more += 1)
    await Promise.all([reads(), answers({ ...good, id: `m-${more}` })]);
  expect(await useless()).toEqual({
    "not-understood": broken.length,
    "another-boot": 1,
    "not-asked": 203,
    repeated: 1,
    late: 1,
  });
  await eventually(view, (one) => one?.packs === packs);
  expect(await view()).toMatchObject({ packs, gaps: 0, rejected: 0 });
  expect(await (await gateway.api("/metrics")).text()).toContain(
    'drumlin_broker_refusals_total{code="payload-too-long",node="press"} 1',
  );
});

it("of ten thousand kinds that a node says it understands only those that exist are known", async () => {
  const { ask, isAsked, heard, answers, view, sayPresence } = await house();
  const many = [...Array.from({ length: 6000 }, (_, at) => `k-${at}`), ...Array(4000).fill(1), "identify"];
  await sayPresence({ state: "online", period_s: 30, requests: many });
  await eventually(view, (one) => one?.periodS === 30);
  expect(await view()).toMatchObject({ requests: ["identify"] });
  const asked = ask("press");
  await isAsked();
  await answers({ id: heard[0]?.id, boot: 17, result: "done" });
  expect((await asked)[0]).toBe(200);
});

it("whatever stands for a node in the address, nothing is sent and nothing breaks", async () => {
  const { gateway, ask, heard, answers, isAsked } = await house();
  const odd = ["..%2fpress", "press%2f..", "%00", "%zz", "press%20", "PRESS", "gateway", "+", "%23"];
  odd.push("__proto__", "constructor", "n".repeat(63), "n".repeat(64), "n".repeat(200), "%F0%9F%90%B8");
  odd.push(`${"n".repeat(63)}%F0%9F%90%B8`, "%ED%A0%80", "press%0Adrums");
  const codes = new Map<string, unknown>();
  for (const id of odd) {
    const [status, { code }] = await ask(id);
    codes.set(id, code);
    expect([id, status]).toEqual([id, status < 500 ? status : "below 500"]);
  }
  expect([...new Set(codes.values())].sort()).toEqual(["no-such-node", "query-not-understood"]);
  const audit = await gateway.json<{ items: Said[] }>("/api/audit");
  expect(audit.items.length).toBeGreaterThan(10);
  expect(heard).toEqual([]);
  const asked = ask("press");
  await isAsked();
  await answers({ id: heard[0]?.id, boot: 17, result: "done" });
  expect((await asked)[0]).toBe(200);
});

it("of thirty who ask at once one is answered; whoever may only look, or is nobody, asks nothing; a program's name is on record", async () => {
  const { gateway, ask, heard, answers, isAsked } = await house();
  const statuses: number[] = [];
  const many = Array.from({ length: 30 }, async () => statuses.push((await ask("press"))[0]));
  await isAsked();
  await eventually(
    async () => statuses.length,
    (count) => count === 29,
  );
  await answers({ id: heard[0]?.id, boot: 17, result: "done" });
  await Promise.all(many);
  expect(statuses).toEqual([...Array(29).fill(429), 200]);
  const made = await gateway.api("/api/tokens", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ name: "screen", role: "viewer" }),
  });
  const { token } = (await made.json()) as { token: string };
  const asViewer = { authorization: `Bearer ${token}` };
  expect(await ask("press", "identify", asViewer)).toMatchObject([403, { code: "role-not-enough" }]);
  expect(await ask("press", "identify", { authorization: "Bearer none" })).toMatchObject([401, {}]);
  expect(heard.length).toBe(1);
  const audit = await gateway.json<{ items: Said[] }>("/api/audit");
  const asked = audit.items.filter(({ what }) => what === "node-asked");
  // Those who came while it was asked are on no record: of a few thousand nothing else would be left there.
  expect(asked.map(({ by, after }) => [by, after])).toEqual([
    ["program:test", { kind: "identify", outcome: "done" }],
  ]);
});

it("a node that says it goes is not asked while its connection stands, and is again once it sends", async () => {
  const { press, view, ask, heard, isAsked, answers, sayPresence } = await house();
  await sayPresence({ state: "offline" });
  await eventually(view, (one) => one?.online === false);
  expect(await ask("press")).toMatchObject([409, { code: "node-offline" }]);
  const pack = JSON.stringify([{ boot: 17, seq: 1, up: 9, n: "ec-1", u: "S/m", v: 0.04 }]);
  await press.publishAsync(`${base}/press/readings`, pack, { qos: 1 });
  await eventually(view, (one) => one?.online === true);
  const asked = ask("press");
  await isAsked();
  expect(heard.length).toBe(1);
  await answers({ id: heard[0]?.id, boot: 17, result: "done" });
  expect((await asked)[0]).toBe(200);
});

it.each(["request", "response"])(
  "a broker whose rules let no %s through: no answer, its rules named as a cause, and readings go on",
  async (kind) => {
    const { gateway, press, view, ask, heard } = await house([`${base}/+/${kind}`]);
    press.on("message", (_topic, payload) => {
      const { id, boot } = JSON.parse(payload.toString());
      press.publish(`${base}/press/response`, JSON.stringify({ id, boot, result: "done" }));
    });
    const asked = ask("press");
    for (let seq = 1; seq <= 50; seq += 1)
      await press.publishAsync(
        `${base}/press/readings`,
        JSON.stringify([{ boot: 17, seq, up: seq, n: "ec-1", u: "S/m", v: 0.04 }]),
        { qos: 1 },
      );
    const [status, said] = await asked;
    expect([status, said.code]).toEqual([504, "node-gave-no-answer"]);
    expect(said.detail).toMatch(/rules/);
    expect(heard.length).toBe(kind === "request" ? 0 : 1);
    // What came again on a new connection is a repeat.
    await eventually(view, (one) => one !== undefined && one.packs - one.repeats === 50);
    expect(await view()).toMatchObject({ gaps: 0 });
    const times = (words: string) => gateway.printed().split(words).length - 1;
    const isBack = () =>
      eventually(
        async () => times("broker: found again"),
        (found) => found === times("broker: lost"),
      );
    await isBack();
    await ask("press");
    await isBack();
    const [, { code }] = await ask("press");
    // Some brokers end the connection for each request: after two none is sent.
    expect([0, 2]).toContain(times("broker: lost"));
    expect(code).toBe(times("broker: lost") === 2 ? "broker-refuses-requests" : "node-gave-no-answer");
    expect((await gateway.api("/readyz")).status).toBe(200);
  },
);
