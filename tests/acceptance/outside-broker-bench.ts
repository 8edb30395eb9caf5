import { connectAsync, type MqttClient } from "mqtt";
import { newSite, smallestLine, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";

/** What a test began, to be ended after it, the last first. */
export const ends: (() => unknown)[] = [];

/** Ends all of it. */
export async function endAll(): Promise<void> {
  for (const end of ends.splice(0).reverse()) await end();
}

/** Where the node speaks. */
export const topic = "drumlin/1/saltmarsh-house/press/readings";
/** A line with two topics of another protocol. */
export const foreign = `${smallestLine}foreign:
  - { topic: shed/ec, channel: press/ec-1, unit: mS/cm }
  - { topic: shed/thermometer, channel: press/t-1, pointer: /now/0/degrees, unit: F }
`;

/** A real Mosquitto that passes nothing on under `denied`, a gateway on it, and a node whose session the broker keeps. */
export async function bench(yaml = smallestLine, denied: readonly string[] = []) {
  const mosquitto = await startMosquitto(null, 0, denied);
  ends.push(() => mosquitto.stop());
  const site = await newSite(["press"], yaml);
  const start = async (more: readonly string[] = []) =>
    startProcess(site, ["--broker", mosquitto.url, ...more]);
  const gateway = await start();
  const client: MqttClient = await connectAsync(mosquitto.url, { clientId: "node", clean: false });
  client.on("error", () => {});
  ends.push(() => client.endAsync(true));
  return { mosquitto, site, start, gateway, client };
}
