import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connect, type MqttClient } from "mqtt";
import { openAccounts } from "../../accounts/index.ts";
import {
  createSimulatedNodes,
  houseNodes,
  saltmarshHouseYaml,
  type WaterLine,
} from "../../simulator/index.ts";
import { createDemoLine } from "../demo-history.ts";
import { wallMs } from "../host-time.ts";
import { listenAddress, readOptions } from "../options.ts";
import { startGateway } from "../start-gateway.ts";
import { untilStopped } from "../until-stopped.ts";
import type { Command } from "./command.ts";

const help = `drumlin demo [--http HOST:PORT] [--mqtt HOST:PORT] [--membrane]

Shows Saltmarsh House, an invented nursery: two weeks of simulated history, then simulated nodes that speak MQTT.
--membrane puts a membrane before the house's resin.
Everything simulated is marked so. It listens on loopback, and whoever opens the page is an operator. Data lie in a temporary folder that is removed at the end.
Ports 8080 and 1883 if they are free, else the next free ones; both are printed.`;

const site = "saltmarsh-house";
const periodMs = 2000;

function isFree(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.once("error", () => resolve(false));
    probe.listen(port, "127.0.0.1", () => probe.close(() => resolve(true)));
  });
}

async function firstFree(from: number): Promise<number> {
  for (let port = from; port < from + 50; port += 1) if (await isFree(port)) return port;
  return 0;
}

/** From now on the house's nodes are clients of the broker; gives the way to end it. */
function speak(
  water: WaterLine,
  secrets: Readonly<Record<(typeof houseNodes)[number], string>>,
  port: number,
): () => void {
  // A person opens the tap of the mix drum, so that there is something to see.
  water.callMix();
  const nodes = createSimulatedNodes({ site, water, boot: 42, startMs: water.line.tMs - 60_000 });
  const clients = new Map<string, MqttClient>();
  for (const node of houseNodes) {
    const will = nodes.will(node);
    const client = connect(`mqtt://127.0.0.1:${port}`, {
      username: node,
      password: secrets[node],
      clientId: `simulated-${node}`,
      will: { topic: will.topic, payload: Buffer.from(will.payload), qos: 1, retain: true },
    });
    client.subscribe(nodes.requestTopic(node), { qos: 1 });
    client.on("message", (_topic, payload, { retain }) => {
      for (const said of nodes.answers(node, payload, retain))
        client.publish(said.topic, Buffer.from(said.payload), { qos: 1 });
    });
    clients.set(node, client);
  }
  for (const presence of nodes.presences(periodMs / 1000))
    clients
      .get(presence.node)
      ?.publish(presence.topic, Buffer.from(presence.payload), { qos: 1, retain: true });
  let lastMs = wallMs();
  const beat = setInterval(() => {
    const nowMs = wallMs();
    water.step(Math.min(30_000, nowMs - lastMs));
    lastMs = nowMs;
    if (water.drums.mix.drum.litres > 165) water.callMix();
    for (const node of houseNodes) {
      const { topic, payload } = nodes.pack(node);
      clients.get(node)?.publish(topic, Buffer.from(payload), { qos: 1 });
    }
  }, periodMs);
  return () => {
    clearInterval(beat);
    for (const client of clients.values()) client.end(true);
  };
}

/** `drumlin demo`: Saltmarsh House, simulated and marked so on every page. */
export const demoCommand: Command = {
  name: "demo",
  summary: "shows a simulated line, with two weeks of history",
  help,
  async run(args) {
    const options = readOptions(args, { http: "text", mqtt: "text", membrane: "flag" });
    // Listened for before anything is said to be ready: a signal that comes at once is still an orderly stop.
    const stopped = untilStopped();
    const begunMs = wallMs();
    const data = await mkdtemp(join(tmpdir(), "drumlin-demo-"));
    const demo = createDemoLine({ site, endMs: begunMs, membrane: options.flag("membrane") });
    const accounts = openAccounts({ folder: data, now: wallMs });
    const secrets = {
      press: await accounts.nodes.put("press", "demo"),
      drums: await accounts.nodes.put("drums", "demo"),
    };
    accounts.close();
    let packs = 0;
    const gateway = await startGateway({
      data,
      lineYaml: saltmarshHouseYaml({ membrane: options.flag("membrane") }),
      http: options.text("http")
        ? listenAddress(options.text("http") as string, "http")
        : { host: "127.0.0.1", port: await firstFree(8080) },
      mqtt: options.text("mqtt")
        ? listenAddress(options.text("mqtt") as string, "mqtt")
        : { host: "127.0.0.1", port: await firstFree(1883) },
      simulated: true,
      signedIn: { kind: "person", name: "operator", role: "operator" },
      log: (message) => console.error(message),
      async before(append) {
        packs = await demo.append(append, wallMs);
      },
    });
    console.log(
      `Saltmarsh House, simulated: ${packs} packs of two weeks in ${((wallMs() - begunMs) / 1000).toFixed(1)} s`,
    );

    const endSpeaking = speak(demo.water, secrets, gateway.mqttPort);
    console.log("You are signed in as an operator without a password: this is a demo, on this machine only.");
    console.log(
      `page: http://127.0.0.1:${gateway.httpPort}/   MQTT: 127.0.0.1:${gateway.mqttPort}   (Ctrl-C ends it)`,
    );
    await stopped;
    endSpeaking();
    await gateway.stop();
    await rm(data, { recursive: true, force: true });
    return 0;
  },
};
