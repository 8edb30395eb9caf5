import type { NodeView } from "@drumlin/gateway/contract";
import { connect, type MqttClient } from "mqtt";
import { afterEach, describe, expect, it, vi } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { endAll, ends } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });
afterEach(endAll);

const base = "drumlin/1/saltmarsh-house";
type Said = Readonly<Record<string, unknown>>;

/** A gateway on its own broker, or on a real Mosquitto, with the nodes press and drums. */
async function house(kind: "embedded" | "mosquitto") {
  const site = await newSite(["press", "drums"]);
  const mosquitto = kind === "mosquitto" ? await startMosquitto() : null;
  if (mosquitto) ends.push(() => mosquitto.stop());
  const gateway = await startProcess(site, mosquitto ? ["--broker", mosquitto.url] : []);
  ends.push(() => gateway.stop());
  /** `heard`: what comes from the very first moment on. */
  async function node(name: "press" | "drums", session: "kept" | "new" = "new", heard: Said[] = []) {
    const client = connect(mosquitto?.url ?? `mqtt://127.0.0.1:${gateway.mqtt}`, {
      username: name,
      password: site.secrets[name] as string,
      clientId: name,
      clean: session === "new",
      reconnectPeriod: 0,
    });
    client.on("error", () => {});
    client.on("message", (_topic, payload) => heard.push(JSON.parse(payload.toString())));
    await new Promise((resolve) => client.once("connect", resolve));
    ends.push(() => client.endAsync(true));
    return client;
  }
  const nodeView = async (id: string) =>
    (await gateway.json<{ items: NodeView[] }>("/api/nodes")).items.find((one) => one.id === id);
  async function saysHello(client: MqttClient, name: string, more: Said): Promise<void> {
    const hello = JSON.stringify({ state: "online", boot: 17, period_s: 60, ...more });
    await client.publishAsync(`${base}/${name}/presence`, hello, { qos: 1, retain: true });
    const periodS = (more.period_s as number | undefined) ?? 60;
    await eventually(
      () => nodeView(name),
      (view) => view?.online === true && view.periodS === periodS,
    );
  }
  async function ask(name: string, body: Said): Promise<readonly [status: number, said: Said]> {
    const answer = await gateway.api(`/api/nodes/${name}/request`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    return [answer.status, (await answer.json()) as Said];
  }
  return { gateway, node, saysHello, ask, nodeView };
}

/** A node that blinks, sends at once, and sends each so many seconds from 5 on. */
function understands(client: MqttClient, name: string) {
  const heard: (Said & { readonly retain: boolean; readonly qos: number })[] = [];
  client.on("message", (_topic, payload, { retain, qos }) => {
    const said = JSON.parse(payload.toString()) as Said;
    heard.push({ ...said, retain, qos });
    const isTooOften = said.request === "set-period" && Number(said.period_s) < 5;
    const answer = isTooOften
      ? { id: said.id, boot: 17, result: "refused", reason: "too-often-for-me" }
      : { id: said.id, boot: 17, result: "done" };
    client.publish(`${base}/${name}/response`, JSON.stringify(answer));
  });
  return heard;
}

const all = ["report-now", "identify", "set-period"];

describe.each(["embedded", "mosquitto"] as const)("by a real client, %s", (kind) => {
  it("a node does what it is asked, or says why not; who asked is on record; a node that announces nothing is never asked", async () => {
    const { gateway, node, saysHello, ask, nodeView } = await house(kind);
    const press = await node("press");
    const heard = understands(press, "press");
    await press.subscribeAsync(`${base}/press/request`, { qos: 1 });
    await saysHello(press, "press", { requests: all });
    expect(await nodeView("press")).toMatchObject({ requests: all, periodS: 60 });

    expect(await ask("press", { kind: "identify" })).toEqual([
      200,
      { node: "press", kind: "identify", outcome: "done" },
    ]);
    expect(await ask("press", { kind: "set-period", periodS: 2 })).toMatchObject([
      409,
      { code: "node-refused", detail: "press refused it. Its own words: “too-often-for-me”" },
    ]);
    expect((await ask("press", { kind: "set-period", periodS: 7 }))[0]).toBe(200);
    expect(heard).toMatchObject([
      { request: "identify", boot: 17, retain: false, qos: 0 },
      { request: "set-period", period_s: 2 },
      { request: "set-period", period_s: 7 },
    ]);
    // The period that counts is what the node says.
    await saysHello(press, "press", { requests: all, period_s: 7 });
    for (const body of [
      { kind: "set-period", periodS: 0.5 },
      { kind: "set-period", periodS: 3601 },
      { kind: "set-period" },
      { kind: "open-valve" },
    ])
      expect((await ask("press", body))[0]).toBe(400);
    expect(await ask("barn", { kind: "identify" })).toMatchObject([404, { code: "no-such-node" }]);

    const drums = await node("drums");
    const drumsHeard = understands(drums, "drums");
    await drums.subscribeAsync(`${base}/drums/request`, { qos: 1 });
    await saysHello(drums, "drums", {});
    expect(await ask("drums", { kind: "report-now" })).toMatchObject([
      409,
      { code: "node-does-not-understand" },
    ]);
    expect([drumsHeard, heard.length]).toEqual([[], 3]);

    const audit = await gateway.json<{ items: Said[] }>("/api/audit");
    const asked = audit.items.filter(({ what }) => what === "node-asked");
    expect(asked.map(({ subject, after }) => [subject, after])).toEqual([
      ["drums", { kind: "report-now", outcome: "not-understood" }],
      ["barn", { kind: "identify", outcome: "unknown" }],
      ["press", { kind: "set-period", periodS: 7, outcome: "done" }],
      ["press", { kind: "set-period", periodS: 2, outcome: "refused", reason: "too-often-for-me" }],
      ["press", { kind: "identify", outcome: "done" }],
    ]);
    const metrics = await (await gateway.api("/metrics")).text();
    expect(metrics).toContain('drumlin_node_requests_total{kind="identify",outcome="done"} 1');
  });

  it("a node that was away while it was asked hears nothing of it when it is back", async () => {
    const { node, saysHello, ask } = await house(kind);
    const press = await node("press", "kept");
    await press.subscribeAsync(`${base}/press/request`, { qos: 1 });
    await saysHello(press, "press", { requests: all });
    await press.endAsync(true);
    // It had no will: as far as anybody knows it is there.
    expect(await ask("press", { kind: "identify" })).toMatchObject([504, { code: "node-gave-no-answer" }]);
    const heard: Said[] = [];
    const back = await node("press", "kept", heard);
    await back.subscribeAsync(`${base}/press/request`, { qos: 1 });
    const again = ask("press", { kind: "report-now" });
    await eventually(
      async () => heard.length,
      (count) => count > 0,
    );
    expect(heard).toMatchObject([{ request: "report-now" }]);
    back.publish(`${base}/press/response`, JSON.stringify({ id: heard[0]?.id, boot: 17, result: "done" }));
    expect((await again)[0]).toBe(200);
  });
});

it("a node can neither ask another one, nor answer for it, nor hear what it is asked", async () => {
  const { gateway, node, saysHello, ask } = await house("embedded");
  const press = await node("press");
  const heard: Said[] = [];
  press.on("message", (_topic, payload) => heard.push(JSON.parse(payload.toString())));
  await press.subscribeAsync(`${base}/press/request`, { qos: 1 });
  await saysHello(press, "press", { requests: all });
  const thief = await node("drums");
  for (const filter of [`${base}/press/request`, `${base}/+/request`, `${base}/press/response`, "#"])
    await expect(thief.subscribeAsync(filter)).rejects.toThrow();
  const forged = JSON.stringify({ id: "f-1", boot: 17, request: "set-period", period_s: 3600 });
  await thief.publishAsync(`${base}/press/request`, forged, { qos: 1 });
  await thief.publishAsync(`${base}/press/request`, forged, { qos: 1, retain: true });
  await thief.publishAsync(`${base}/drums/request`, forged, { qos: 1 });
  const asked = ask("press", { kind: "identify" });
  await eventually(
    async () => heard.length,
    (count) => count > 0,
  );
  const said = (boot: number) => JSON.stringify({ id: heard[0]?.id, boot, result: "done" });
  // The one that was asked answers for another start, somebody else for it, and it itself in the end.
  await press.publishAsync(`${base}/press/response`, said(16), { qos: 1 });
  await thief.publishAsync(`${base}/press/response`, said(17), { qos: 1 });
  await thief.publishAsync(`${base}/drums/response`, said(17), { qos: 1 });
  await press.publishAsync(
    `${base}/press/response`,
    JSON.stringify({ id: heard[0]?.id, boot: 17, result: "refused", reason: "no-lamp" }),
    { qos: 1 },
  );
  expect(await asked).toMatchObject([
    409,
    { code: "node-refused", detail: "press refused it. Its own words: “no-lamp”" },
  ]);
  expect(heard).toMatchObject([{ request: "identify" }]);
  const metrics = await (await gateway.api("/metrics")).text();
  expect(metrics).toContain('drumlin_broker_refusals_total{code="topic-not-yours",node="drums"} 4');
  expect(metrics).toContain('drumlin_broker_refusals_total{code="filter-not-yours",node="drums"} 4');
  expect(metrics).toContain('drumlin_node_answers_without_effect_total{why="another-boot"} 1');
  expect(metrics).toContain('drumlin_node_answers_without_effect_total{why="not-asked"} 1');
});
