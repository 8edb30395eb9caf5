// A broker that takes less than the gateway has to say: no packet so long, or nothing under some topics.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, expect, it, vi } from "vitest";
import { eventually, newSite, smallestLine, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { bench, endAll, ends, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

afterEach(endAll);

const own = "drumlin/1/saltmarsh-house/gateway";
const times = (text: string, part: string) => text.split(part).length - 1;

it("takes no packet as long as a drum's words: that is named, and everything else goes on; with room again it is told", async () => {
  const settings = join((await newSite([])).folder, "more.conf");
  const limit = (bytes: number) =>
    writeFileSync(join(`${settings}.d`, "limit.conf"), `max_packet_size ${bytes}\n`);
  mkdirSync(`${settings}.d`);
  limit(700);
  const mosquitto = await startMosquitto(null, 0, [], [`include_dir ${settings}.d`]);
  ends.push(() => mosquitto.stop());
  const gateway = await startProcess(await newSite(["press"]), ["--broker", mosquitto.url]);
  ends.push(() => gateway.stop());
  const node = await connectAsync(mosquitto.url, { clientId: "node" });
  node.on("error", () => {});
  ends.push(() => node.endAsync(true));
  const heard = new Map<string, string>();
  node.on("message", (from, payload) => heard.set(from.slice(own.length + 1), payload.toString()));
  await node.subscribeAsync(`${own}/#`, { qos: 1 });
  await expect
    .poll(async () => JSON.stringify(await gateway.json("/readyz")), { timeout: 60_000 })
    .toMatch(/takes no packet over 700 bytes: not told are .*gateway\/drums\/\w+ \(\d+ bytes\)/);
  // Through the same connection a node is heard, and what is short enough is told.
  const lost = times(gateway.printed(), "broker: lost");
  await node.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":21}]', { qos: 1 });
  await eventually(
    () => gateway.json<LineView>("/api/line"),
    (line) => line.points[0]?.temperature.value === 21,
  );
  expect(heard.has("presence")).toBe(true);
  expect([...heard.keys()].filter((name) => name.startsWith("drums/"))).toEqual([]);
  expect(times(gateway.printed(), "broker: lost")).toBe(lost);
  expect(lost).toBeLessThanOrEqual(2);
  expect(times(gateway.printed(), "takes no packet over 700 bytes")).toBe(1);
  limit(20_000);
  await mosquitto.restart();
  await expect.poll(() => [...heard.keys()], { timeout: 90_000 }).toContain("drums/mix");
  await expect.poll(() => gateway.json("/readyz")).toEqual({ ready: true });
});

it("forbids some of what the gateway tells, and Mosquitto with an endless queue ends the connection for it: named, once, and all else goes on", async () => {
  const { gateway, client } = await bench(smallestLine, [`${own}/drums/#`]);
  ends.push(() => gateway.stop());
  const text = `its rules do not let this gateway write ${own}/drums/`;
  await expect
    .poll(async () => JSON.stringify(await gateway.json("/readyz")), { timeout: 120_000 })
    .toContain(text);
  const lost = times(gateway.printed(), "broker: lost");
  await client.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":21}]', { qos: 1 });
  await eventually(
    () => gateway.json<LineView>("/api/line"),
    (line) => line.points[0]?.temperature.value === 21,
  );
  expect(times(gateway.printed(), "broker: lost")).toBe(lost);
  expect(lost).toBeLessThanOrEqual(2);
  expect(times(gateway.printed(), text)).toBe(1);
});
