import { openAccounts } from "@drumlin/gateway/accounts";
import { startGateway } from "@drumlin/gateway/app";
import type { LineView } from "@drumlin/gateway/contract";
import { calls } from "@drumlin/gateway/http";
import { connectAsync, type MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { eventually, newSite } from "./gateway-process.ts";
import { pressPack } from "./node-says.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
title: Saltmarsh House
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2, temperature: press/t-2 }
stages:
  resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L, flow: press/flow-1 }
drums:
  reserve: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop, level: { channel: drums/level, as: volume }, floats: { overflow: drums/over } }
  mix: { volume: 150 L, fed_by: after-resin, control: manual, holds: salt, target: { salinity: 33 } }
floors: { press-room: press/floor }
notify: { to: { house: { mqtt: calls } } }
`;

/** What is asked of each call of the API with a name in its path; a call that is new fails until it stands here. */
const named: Readonly<Record<string, readonly string[]>> = {
  "/api/points/{id}/series": ["conductivity25", "temperature", "flow"].map(
    (quantity) => `/api/points/after-resin/series?quantity=${quantity}&buckets=60`,
  ),
  "/api/drums/{id}/series": ["/api/drums/reserve/series?quantity=volume&buckets=60"],
  "/api/fills/{id}": [],
  "/api/nights/{date}": ["/api/nights/2026-03-02"],
  "/api/records/{kind}": [
    "act-done",
    "alarm",
    "fill",
    "batch",
    "drum-water",
    "line",
    "presence",
    "proof",
    "rejection",
    "gap",
    "draw",
    "float-change",
    "night",
    "work",
  ].map((kind) => `/api/records/${kind}`),
};
/** Not what a page shows: signs of life, figures of the process, the stream (its snapshot is asked for by itself). */
const apart: ReadonlySet<string> = new Set(["/healthz", "/readyz", "/metrics", "/api/live"]);
const shown = calls
  .filter(({ method, path }) => method === "get" && !apart.has(path))
  .flatMap(({ path }) => (path.includes("{") ? (named[path] as readonly string[]) : [path]));

const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);
let nowMs = beginMs;
/** Time goes on only where the test says so. */
const host = {
  wallMs: () => nowMs,
  steadyMs: () => nowMs - beginMs,
  uptimeMs: () => nowMs - beginMs,
  bootId: "one",
};

const site = await newSite(["press", "drums"], yaml);
let gateway: Awaited<ReturnType<typeof startGateway>>;
let cookie = "";
const before = new Map<string, unknown>();
const after = new Map<string, unknown>();

const start = async () => {
  gateway = await startGateway({
    data: site.data,
    lineYaml: yaml,
    lineFile: site.line,
    http: { host: "127.0.0.1", port: 0 },
    mqtt: { host: "127.0.0.1", port: 0 },
    host,
    log: () => {},
  });
};
const url = (path: string) => `http://127.0.0.1:${gateway.httpPort}${path}`;
/**
 * Another port, and what runs now: the gateway could not hear it meanwhile, and the next pack says so (within a few
 * seconds; that water ran, since when and how much stays).
 */
function withoutNews(key: string, value: unknown): unknown {
  if (key === "run") return { ...(value as object), basis: null, flow: null };
  return key === "mqtt" ? { ...(value as object), port: null } : value;
}
const ask = async (path: string): Promise<unknown> => {
  const answer = await fetch(url(path), { headers: { cookie } });
  return { status: answer.status, body: JSON.parse(await answer.text(), withoutNews) };
};
async function send(path: string, body: object): Promise<void> {
  const answer = await fetch(url(path), {
    method: "POST",
    headers: { "content-type": "application/json", origin: url(""), cookie },
    body: JSON.stringify(body),
  });
  expect([path, answer.status, answer.ok || (await answer.text())]).toEqual([path, answer.status, true]);
}
/** The first event of the stream. */
async function snapshot(): Promise<unknown> {
  const abort = new AbortController();
  const answer = await fetch(url("/api/live"), { headers: { cookie }, signal: abort.signal });
  let text = "";
  for await (const chunk of answer.body as unknown as AsyncIterable<Uint8Array>) {
    text += new TextDecoder().decode(chunk);
    if (/event: snapshot[\s\S]*\n\n/.test(text)) break;
  }
  abort.abort();
  return JSON.parse(
    /data: (.*)\n/.exec(text.slice(text.indexOf("event: snapshot")))?.[1] ?? "null",
    withoutNews,
  );
}
async function everything(into: Map<string, unknown>): Promise<void> {
  for (const path of shown) into.set(path, await ask(path));
  into.set("/api/live", await snapshot());
}

interface Water {
  readonly kappa25: number;
  readonly flow: number;
  readonly level: number;
  readonly stop?: boolean;
  readonly over?: boolean;
  readonly floor?: boolean;
}

async function life(press: MqttClient, drums: MqttClient): Promise<void> {
  const publish = (client: MqttClient, node: string, what: string, said: unknown) =>
    client.publishAsync(`drumlin/1/saltmarsh-house/${node}/${what}`, JSON.stringify(said), { qos: 1 });
  const water = async (forS: number, { kappa25, flow, level, stop, over, floor }: Water) => {
    for (let s = 0; s < forS; s += 10) {
      nowMs += 10_000;
      await publish(press, "press", "readings", [
        ...pressPack({ kappa: kappa25, flowLPerMin: flow }),
        { n: "floor", vb: floor === true },
        { n: "spare", u: "Cel", v: 20 },
      ]);
      await publish(drums, "drums", "readings", [
        { n: "level", u: "m3", v: (level + (flow * s) / 60) / 1000 },
        { n: "stop", vb: stop === true },
        { n: "over", vb: over === true },
      ]);
    }
  };
  const standing = async (key: string) => {
    const found = await eventually(
      async () => (await (await fetch(url("/api/alarms"), { headers: { cookie } })).json()) as Alarms,
      ({ items }) => items.some((alarm) => alarm.key === key),
    );
    return found.items.find((alarm) => alarm.key === key)?.occurrence;
  };
  interface Alarms {
    readonly items: readonly { readonly key: string; readonly occurrence: string }[];
  }
  const said = { state: "online", boot: 17, protocol: 1, period_s: 10, firmware: "1.4" };
  await publish(press, "press", "presence", said);
  await publish(drums, "drums", "presence", said);
  await water(300, { kappa25: 0.5, flow: 2.5, level: 50 });
  await water(300, { kappa25: 60, flow: 2.5, level: 62.5 });
  await water(200, { kappa25: 0.5, flow: 0, level: 75, stop: true, over: true });
  // Nobody is heard for a while; then somebody draws.
  nowMs += 400_000;
  await water(200, { kappa25: 0.5, flow: 0, level: 75, stop: true });
  await water(400, { kappa25: 0.5, flow: 0, level: 55, stop: true, floor: true });
  const breakthrough = await standing("resin-breakthrough:after-resin");
  await send("/api/alarms/resin-breakthrough:after-resin/acknowledge", { occurrence: breakthrough });
  const floor = await standing("floor-wet:press-room");
  await send("/api/alarms/floor-wet:press-room/shelve", { occurrence: floor, minutes: 60, note: "mopping" });
  await standing("drum-high-high:reserve");
  await send("/api/work", { kind: "drum", id: "mix", minutes: 30 });
  await send("/api/calibrations", { channel: "press/ec-1", points: [{ read: 1, true: 1.1 }] });
  await send("/api/media", { stage: "resin", volumeL: 20 });
  await send("/api/hand-tests", {
    place: { kind: "drum", id: "reserve" },
    what: "total-chlorine",
    value: 0.02,
    below: true,
  });
  await send("/api/notes", { text: "salt came" });
  await send("/api/drums/mix/fill", { do: "start" });
  await send("/api/people", { name: "Jonas", role: "viewer", password: "brackish evenings" });
  await send("/api/tokens", { name: "display", role: "viewer" });
  await send("/api/me/settings", {
    language: "de",
    numbers: "de-DE",
    conductivity: "mg/L",
    volume: "L",
    temperature: "Cel",
  });
  await water(100, { kappa25: 0.5, flow: 2.5, level: 75, stop: false, floor: true });
  // One test that proves its float, and one that goes on.
  await send("/api/proof-tests", { float: "reserve.stop", method: "lifted" });
  for (const stop of [false, true, false])
    await water(30, { kappa25: 0.5, flow: 2.5, level: 79, stop, floor: true });
  await send("/api/proof-tests", { float: "reserve.stop", method: "bucket" });
  // Refused by the path, and at the doors.
  await publish(press, "press", "readings", [{ n: "ec-1", u: "furlong", v: 1 }]);
  await publish(press, "drums", "readings", [{ n: "stop", vb: true }]);
  await fetch(url("/api/notes"), { method: "POST", headers: { cookie, origin: "http://elsewhere" } });
  // Packs are acknowledged before the path has run over them.
  await eventually(
    async () => JSON.stringify(await ask("/api/rejections")),
    (text) => text.includes("unit-not-listed"),
  );
}

beforeAll(async () => {
  const accounts = openAccounts({ folder: site.data, now: host.wallMs, cost: { log2N: 10, r: 8, p: 1 } });
  await accounts.people.add({ name: "Mara", role: "operator", password: "brackish mornings", by: "test" });
  accounts.close();
  await start();
  const signedIn = await fetch(url("/api/sign-in"), {
    method: "POST",
    headers: { "content-type": "application/json", origin: url("") },
    body: JSON.stringify({ name: "Mara", password: "brackish mornings" }),
  });
  cookie = signedIn.headers
    .getSetCookie()
    .map((one) => one.split(";")[0])
    .join("; ");
  const [press, drums] = await Promise.all(
    ["press", "drums"].map((node) =>
      connectAsync(`mqtt://127.0.0.1:${gateway.mqttPort}`, {
        username: node,
        password: site.secrets[node] ?? "",
      }),
    ),
  );
  await life(press as MqttClient, drums as MqttClient);
  await everything(before);
  await Promise.all([press, drums].map((client) => client?.endAsync(true)));
  await gateway.stop();
  await start();
  await everything(after);
}, 120_000);
afterAll(() => gateway.stop());

describe("after a restart every page shows what it showed before", () => {
  it.each([...shown, "/api/live"])("GET %s", (path) => {
    expect(before.get(path)).toMatchObject(path === "/api/live" ? {} : { status: 200 });
    if (!path.startsWith("/api/notifications")) return expect(after.get(path)).toEqual(before.get(path));
    // What was due is told at its turn, a second later at most: more may have been told, and nothing is missing.
    const idsOf = (all: typeof after) =>
      [...JSON.stringify(all.get(path)).matchAll(/"id":"[^"]+"/g)].map(String);
    expect(idsOf(after)).toEqual(expect.arrayContaining(idsOf(before)));
  });

  it("two hours later nothing looks as if it were of now, and everything has its time", async () => {
    const { body: was } = before.get("/api/line") as { body: LineView };
    await gateway.stop();
    nowMs += 2 * 3_600_000;
    await start();
    const { body: is } = (await ask("/api/line")) as { body: LineView };
    const aged = ({ value, unit, at }: LineView["drums"][number]["volume"]) => ({
      ...{ value: null, unit, flag: 9, at, reasons: ["old"] },
      ...(value === null ? {} : { was: value }),
    });
    for (const [index, point] of was.points.entries())
      for (const quantity of ["conductivity25", "temperature"] as const)
        expect(is.points[index]?.[quantity]).toEqual(aged(point[quantity]));
    expect(is.drums[0]?.volume).toEqual(aged((was.drums[0] as LineView["drums"][number]).volume));
    expect(is.drums.map(({ floats }) => floats.map(({ state, changedAt }) => [state, changedAt]))).toEqual(
      was.drums.map(({ floats }) => floats.map(({ changedAt }) => ["unknown", changedAt])),
    );
    expect(is.nodes.map(({ id, lastSeen }) => [id, lastSeen])).toEqual(
      was.nodes.map(({ id, lastSeen }) => [id, lastSeen]),
    );
  });

  it("and there was something to show", () => {
    const empty = [...before]
      .filter(([, answer]) => /"items":\[\]/.test(JSON.stringify(answer)))
      .map(([path]) => path);
    expect(empty).toEqual(["/api/records/night"]);
  });
});
