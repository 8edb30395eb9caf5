// Two gateways on copies of one data folder have one name at a broker of somebody else, which lets a name in once.
import { cpSync } from "node:fs";
import { join } from "node:path";
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, describe, expect, it, vi } from "vitest";
import { eventually, startProcess } from "./gateway-process.ts";
import { bench, endAll, ends, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

afterEach(endAll);

const presence = "drumlin/1/saltmarsh-house/gateway/presence";
const pack = (celsius: number) => `[{"n":"t-1","u":"Cel","v":${celsius}},{"n":"ec-1","u":"S/m","v":0.0412}]`;
type Gateway = Awaited<ReturnType<typeof startProcess>>;
const shows = (gateway: Gateway, celsius: number) =>
  eventually(
    () => gateway.json<LineView>("/api/line"),
    (line) => line.points[0]?.temperature.value === celsius,
  );

/** A gateway that lived, and a copy of its folder taken while it stood still. */
async function copied() {
  const house = await bench();
  await house.gateway.stop();
  const copy = { ...house.site, data: join(house.site.folder, "copy") };
  cpSync(house.site.data, copy.data, { recursive: true });
  const { url } = house.mosquitto;
  const startCopy = (more: readonly string[] = []) => startProcess(copy, ["--broker", url, ...more]);
  return { ...house, startCopy };
}

describe("a copy of the data folder", () => {
  it("does not start while a gateway works with the other one, which notices nothing; once that stopped, it does", async () => {
    const { client, start, startCopy } = await copied();
    const first = await start();
    await expect(startCopy()).rejects.toThrow(/A gateway with a copy of this data folder .* is online/);
    await client.publishAsync(topic, pack(21), { qos: 1 });
    await shows(first, 21);
    expect(first.printed()).not.toContain("broker: lost");
    expect(await first.stop()).toBe(0);
    const second = await startCopy();
    ends.push(() => second.stop());
    await client.publishAsync(topic, pack(22), { qos: 1 });
    await shows(second, 22);
    await expect(start()).rejects.toThrow(/copy of this data folder/);
  });

  it("that is to take over does: the one before stops in order, and is put out no more", async () => {
    const { client, start, startCopy } = await copied();
    const first = await start();
    const second = await startCopy(["--take-over"]);
    ends.push(() => second.stop());
    expect(await first.ended).toBe(0);
    expect(first.printed()).toContain(
      "a gateway with a copy of this data folder works at this site; this one stops",
    );
    await client.publishAsync(topic, pack(23), { qos: 1 });
    await shows(second, 23);
  });

  it("started at the same moment: one of the two is left, and the site is its own", async () => {
    const { client, start, startCopy } = await copied();
    const begun = await Promise.allSettled([start(), startCopy()]);
    const up = begun.flatMap((one) => (one.status === "fulfilled" ? [one.value] : []));
    for (const one of up) ends.push(() => one.stop());
    if (up.length === 2) await Promise.race(up.map(({ ended }) => ended));
    const left: Gateway[] = [];
    for (const one of up) {
      // What has ended says so before the next turn.
      const stands = new Promise<boolean>((resolve) => setImmediate(() => resolve(false)));
      const isOver = await Promise.race([one.ended.then(() => true), stands]);
      if (!isOver) left.push(one);
    }
    expect(left).toHaveLength(1);
    await client.publishAsync(topic, pack(24), { qos: 1 });
    await shows(left[0] as Gateway, 24);
    const told: string[] = [];
    client.on("message", (_, bytes) => told.push(bytes.toString()));
    await client.subscribeAsync(presence, { qos: 1 });
    await expect.poll(() => told.at(-1)).toContain('"online"');
  });
});

describe("no copy", () => {
  it("a presence that a dead run left behind keeps nobody away, nor what the broker kept for it", async () => {
    const { client, gateway, start } = await bench();
    const told: string[] = [];
    client.on("message", (_, bytes) => told.push(bytes.toString()));
    await client.subscribeAsync(presence, { qos: 1 });
    await expect.poll(() => told.at(-1)).toContain('"online"');
    const online = told.at(-1) as string;
    await gateway.kill();
    await expect.poll(() => told.at(-1)).toContain('"offline"');
    // As where the broker has not yet noticed.
    await client.publishAsync(presence, online, { qos: 1, retain: true });
    await client.publishAsync(topic, pack(25), { qos: 1 });
    const again = await start();
    ends.push(() => again.stop());
    await shows(again, 25);
  });

  it("a stranger under its name is told of, and the gateway goes on", async () => {
    const { client, gateway, mosquitto } = await bench();
    ends.push(() => gateway.stop());
    const told: string[] = [];
    client.on("message", (_, bytes) => told.push(bytes.toString()));
    await client.subscribeAsync(presence, { qos: 1 });
    await expect.poll(() => told.at(-1)).toContain('"online"');
    const { instance } = JSON.parse(told.at(-1) as string);
    const clientId = `drumlin-saltmarsh-house-${instance}`;
    const foundAgain = () => gateway.printed().split("broker: found again").length - 1;
    for (let times = 0; times < 3; times += 1) {
      const stranger = await connectAsync(mosquitto.url, { clientId, clean: false, reconnectPeriod: 0 });
      stranger.on("error", () => {});
      await expect.poll(foundAgain).toBe(times + 1);
      await stranger.endAsync(true);
    }
    expect(gateway.printed()).toContain(`does another program sign in as ${clientId}?`);
    await client.publishAsync(topic, pack(26), { qos: 1 });
    await shows(gateway, 26);
  });
});
