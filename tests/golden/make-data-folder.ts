// node tests/golden/make-data-folder.ts   writes data-folder.tar.gz and data-folder.json: a folder as a real gateway of
// the golden commit leaves it, with latched and shelved alarms, a drum on hold, learned trips, fills and series.
// Run in a work tree of that commit; takes about two minutes of real time.
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { DatabaseSync } from "node:sqlite";
import { fileURLToPath } from "node:url";
import { openJournal } from "@drumlin/gateway/journal";
import { connectAsync, type MqttClient } from "mqtt";
import { eventually, newSite, startProcess } from "../acceptance/gateway-process.ts";

const line = `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2, temperature: press/t-2 }
stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { kind: resin, from: after-carbon, to: after-resin, vessel: 2 L, pipe: 0.2 L, flow: press/flow-1 }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop, floats: { overflow: drums/over }, level: { channel: drums/level, as: volume } }
  spare: { volume: 100 L, fed_by: after-carbon, control: manual, stop: drums/spare-stop, floats: { overflow: drums/spare-over } }
`;
/** A shelf that is never over while anybody reads the folder. */
const farMs = Date.UTC(2099, 0, 1);
const nodes = ["press", "drums"] as const;
type Now = { litres: number; flow: number; kappa: number; stop: boolean; over: boolean; spareOver: boolean };

const site = await newSite(nodes, line);
const clients = new Map<string, MqttClient>();
const packs = new Map<string, number>();
let gateway = await startProcess(site);

async function connectNodes(): Promise<void> {
  for (const node of nodes) {
    const url = `mqtt://127.0.0.1:${gateway.mqtt}`;
    const client = await connectAsync(url, { username: node, password: site.secrets[node] as string });
    clients.set(node, client);
    const topic = `drumlin/1/saltmarsh-house/${node}/presence`;
    const online = { state: "online", boot: 7, firmware: "0.3.1", protocol: 1, period_s: 1 };
    await client.publishAsync(topic, JSON.stringify(online), { qos: 1, retain: true });
  }
}

async function say(node: (typeof nodes)[number], records: Record<string, unknown>[]): Promise<void> {
  const seq = (packs.get(node) ?? 0) + 1;
  packs.set(node, seq);
  // A node that began long ago: nothing is held back after its start.
  Object.assign(records[0] as object, { boot: 7, seq, up: 1000 + performance.now() / 1000 });
  const topic = `drumlin/1/saltmarsh-house/${node}/readings`;
  await clients.get(node)?.publishAsync(topic, JSON.stringify(records), { qos: 1 });
}

async function second(now: Now): Promise<void> {
  await say("press", [
    { n: "t-1", u: "Cel", v: 25 },
    { n: "t-2", u: "Cel", v: 25 },
    { n: "ec-1", u: "S/m", v: 0.04 },
    { n: "ec-2", u: "S/m", v: now.kappa * 1e-4 },
    { n: "flow-1", u: "m3/s", v: now.flow / 60_000 },
  ]);
  await say("drums", [
    { n: "level", u: "m3", v: now.litres / 1000 },
    { n: "stop", vb: now.stop },
    { n: "over", vb: now.over },
    { n: "spare-stop", vb: false },
    { n: "spare-over", vb: now.spareOver },
  ]);
  await new Promise((resolve) => setTimeout(resolve, 1000));
}

const rest: Now = { litres: 140, flow: 0, kappa: 0.5, stop: false, over: false, spareOver: false };

/** Some seconds of filling at 60 L/min up to the trip, then some of rest. */
async function fill(litres: number, kappa: number): Promise<void> {
  for (let at = 160 - litres; at < 160; at += 1) await second({ ...rest, litres: at, flow: 60, kappa });
  await second({ ...rest, litres: 160, flow: 60, stop: true, kappa });
  for (let n = 0; n < 4; n += 1) await second({ ...rest, litres: 160, stop: true, kappa });
}

type Alarm = { key: string; occurrence: string; state: string };
const standing = async () => (await gateway.json<{ items: Alarm[] }>("/api/alarms")).items;
const alarm = async (key: string, state: string) => {
  const found = await eventually(standing, (all) =>
    all.some((one) => one.key === key && one.state === state),
  );
  return found.find((one) => one.key === key) as Alarm;
};
const act = (path: string, body: object) =>
  gateway.api(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });

await connectNodes();
for (let n = 0; n < 3; n += 1) await second(rest);
for (const litres of [18, 16, 17]) await fill(litres, 0.5);
// The resin lets through, a gross value, while the drum fills: an alarm, and the drum on hold.
await fill(22, 180);
const resin = await alarm("resin-breakthrough:after-resin", "unacknowledged");
// The overflow floats were wet: held until reset, one seen, one not.
for (let n = 0; n < 5; n += 1) await second({ ...rest, litres: 150, over: true, spareOver: true });
for (let n = 0; n < 4; n += 1) await second({ ...rest, litres: 150 });
const high = await alarm("drum-high-high:mix", "latched-unacknowledged");
await act(`/api/alarms/${high.key}/acknowledge`, { occurrence: high.occurrence });
await alarm("drum-high-high:mix", "latched-acknowledged");
await act("/api/calibrations", { channel: "press/ec-1", points: [{ read: 400, true: 410 }] });
for (let n = 0; n < 4; n += 1) await second({ ...rest, litres: 150 });
for (const client of clients.values()) await client.endAsync();
await gateway.stop();

const journal = await openJournal({ folder: site.data, now: Date.now });
await journal.append({
  kind: "act",
  act: {
    type: "shelve",
    id: "kept-shelf",
    by: "test",
    key: resin.key,
    occurrence: resin.occurrence,
    untilMs: farMs,
  },
});
await journal.close();
gateway = await startProcess(site);
await alarm(resin.key, "shelved");
await connectNodes();
for (let n = 0; n < 3; n += 1) await second({ ...rest, litres: 150 });
const told = {
  alarms: await standing(),
  drums: (await gateway.json<{ drums: unknown[] }>("/api/line")).drums,
  fills: await gateway.json("/api/fills"),
  changes: await gateway.json("/api/alarms/journal"),
  calibrations: await gateway.json("/api/calibrations"),
  nodes: await gateway.json("/api/nodes"),
};
for (const client of clients.values()) await client.endAsync();
await gateway.stop();

writeFileSync(new URL("data-folder.json", import.meta.url), `${JSON.stringify(told, null, 2)}\n`);
const archive = fileURLToPath(new URL("data-folder.tar.gz", import.meta.url));
writeFileSync(`${site.data}/line.yaml`, line);
// Less to keep: what lies in the write-ahead log goes into its file.
const series = new DatabaseSync(`${site.data}/series.sqlite`);
series.exec("PRAGMA wal_checkpoint(TRUNCATE)");
series.close();
spawnSync("tar", ["-czf", archive, "--exclude=accounts.sqlite*", "-C", site.data, "."], { stdio: "inherit" });
