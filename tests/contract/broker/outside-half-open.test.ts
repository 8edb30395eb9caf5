// A broker that can't be heard any more, or hears and refuses, though nobody has said so.
import { openOutsideBroker } from "@drumlin/gateway/broker";
import { connectAsync } from "mqtt";
import { afterEach, expect, it } from "vitest";
import { Retries } from "../../../gateway/src/broker/retries.ts";
import { startProxy } from "../../acceptance/broker-proxy.ts";
import { startMosquitto } from "../../acceptance/mosquitto.ts";
import { appending } from "./appending.ts";
import { scriptedBroker } from "./scripted-broker.ts";

const topic = "drumlin/1/saltmarsh-house/press/readings";
const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

async function works(url: string) {
  const taken: string[] = [];
  const logged: string[] = [];
  const { appendFor } = appending((entry) => {
    if (entry.kind === "message") taken.push(Buffer.from(entry.payload).toString());
    return Promise.resolve(taken.length);
  });
  const broker = await openOutsideBroker(
    {
      journal: { appendFor },
      onRefused() {},
      log: (text) => logged.push(text),
      onTakenOver() {},
      steadyMs: () => performance.now(),
      retries: new Retries(500),
    },
    {
      url,
      site: "saltmarsh-house",
      instance: "i",
      takeOver: true,
      keepAliveSeconds: 1,
      foreignTopics: ["shed/ec"],
    },
  );
  ends.push(() => broker.stop());
  return { broker, taken, logged };
}

it("a connection that is dead without saying so is noticed by the keep-alive; what came meanwhile comes on the next one", async () => {
  const mosquitto = await startMosquitto();
  ends.push(() => mosquitto.stop());
  const proxy = await startProxy(mosquitto.port);
  ends.push(() => proxy.stop());
  const { broker, taken, logged } = await works(proxy.url);
  const node = await connectAsync(mosquitto.url, { clientId: "node" });
  ends.push(() => node.endAsync(true));
  await expect
    .poll(async () => {
      await node.publishAsync(topic, "heard", { qos: 1 });
      return taken.length;
    })
    .toBeGreaterThan(0);
  proxy.die();
  for (const text of ["a", "b", "c"]) await node.publishAsync(topic, text, { qos: 1 });
  await expect.poll(() => broker.isConnected()).toBe(false);
  expect(broker.trouble()).toBe(`The broker at 127.0.0.1:${proxy.port} answers no more.`);
  proxy.revive();
  await expect.poll(() => taken.slice(-3)).toEqual(["a", "b", "c"]);
  expect(broker.trouble()).toBeNull();
  expect(logged).toEqual([
    `broker: The broker at 127.0.0.1:${proxy.port} answers no more.`,
    "broker: lost",
    "broker: found again",
  ]);
});

it("topics that a broker does not let be read are named once, for as long as it does not", async () => {
  let refuses = true;
  const scripted = await scriptedBroker(undefined, (asked) =>
    refuses && asked.endsWith("/readings") ? 0x80 : 1,
  );
  ends.push(() => scripted.stop());
  const { broker, logged } = await works(scripted.url);
  const text = "its rules do not let this gateway read drumlin/1/saltmarsh-house/+/readings";
  await expect.poll(() => broker.trouble()).toBe(text);
  (await scripted.connection(1)).socket.destroy();
  (await scripted.connection(2)).socket.destroy();
  refuses = false;
  await scripted.connection(3);
  await expect.poll(() => broker.trouble()).toBeNull();
  expect(logged.filter((line) => line.endsWith(text))).toEqual([`broker: ${text}`]);
});
