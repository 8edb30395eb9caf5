// A gateway that is put out again and again at a broker whose rules keep it from asking by whom.
import { connectAsync } from "mqtt";
import { afterEach, expect, it, vi } from "vitest";
import { smallestLine } from "./gateway-process.ts";
import { bench, endAll, ends } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

afterEach(endAll);

const copies = "drumlin/1/saltmarsh-house/gateway/copies";
const presence = "drumlin/1/saltmarsh-house/gateway/presence";

it("a stranger under its name, and no questions passed on: the log names the topic that the broker keeps back", async () => {
  const { client, gateway, mosquitto } = await bench(smallestLine, [copies]);
  ends.push(() => gateway.stop());
  const told: string[] = [];
  client.on("message", (_, bytes) => told.push(bytes.toString()));
  await client.subscribeAsync(presence, { qos: 1 });
  await expect.poll(() => told.at(-1)).toContain('"online"');
  const clientId = `drumlin-saltmarsh-house-${JSON.parse(told.at(-1) as string).instance}`;
  const foundAgain = () => gateway.printed().split("broker: found again").length - 1;
  for (let times = 0; times < 3; times += 1) {
    const stranger = await connectAsync(mosquitto.url, { clientId, clean: false, reconnectPeriod: 0 });
    stranger.on("error", () => {});
    await expect.poll(foundAgain, { timeout: 20_000 }).toBe(times + 1);
    await stranger.endAsync(true);
  }
  expect(gateway.printed()).toContain(`broker: passes on nothing under ${copies}`);
});
