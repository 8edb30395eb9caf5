// Gateways with one name at a broker whose rules keep something back.
import { cpSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, describe, expect, it, vi } from "vitest";
import { eventually, smallestLine, startProcess } from "./gateway-process.ts";
import { bench, endAll, ends, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

afterEach(endAll);

const own = "drumlin/1/saltmarsh-house/gateway";
const pack = '[{"n":"t-1","u":"Cel","v":21},{"n":"ec-1","u":"S/m","v":0.0412}]';
type Gateway = Awaited<ReturnType<typeof startProcess>>;
const shows = (gateway: Gateway) =>
  eventually(
    () => gateway.json<LineView>("/api/line"),
    (line) => line.points[0]?.temperature.value === 21,
  );

/** A gateway that lived, and a copy of its folder, at a broker that passes nothing on under `denied`. */
async function copied(denied: readonly string[]) {
  const house = await bench(smallestLine, denied);
  await house.gateway.stop();
  const copy = { ...house.site, data: join(house.site.folder, "copy") };
  cpSync(house.site.data, copy.data, { recursive: true });
  const startCopy = () => startProcess(copy, ["--broker", house.mosquitto.url]);
  return { ...house, startCopy };
}

describe("where the rules let nothing through but what the gateway tells other programs, of two copies", () => {
  const denied = [`${own}/copies`, `${own}/others`];

  it("the later one does not start and says why; the first notices nothing", async () => {
    const { client, start, startCopy } = await copied(denied);
    const first = await start();
    ends.push(() => first.stop());
    await expect(startCopy()).rejects.toThrow(/A gateway with a copy of this data folder .* is online/);
    await client.publishAsync(topic, pack, { qos: 1 });
    await shows(first);
    expect(first.printed()).not.toContain("broker: lost");
  });

  it("started at once one is left, and the site is its own", async () => {
    const { client, start, startCopy } = await copied(denied);
    const begun = await Promise.allSettled([start(), startCopy()]);
    const up = begun.flatMap((one) => (one.status === "fulfilled" ? [one.value] : []));
    for (const one of up) ends.push(() => one.stop());
    if (up.length === 2) {
      const over = await Promise.race(up.map((one) => one.ended.then(() => one)));
      expect(over.printed()).toContain("a gateway with a copy of this data folder works at this site");
      up.splice(up.indexOf(over), 1);
    }
    expect(up).toHaveLength(1);
    await client.publishAsync(topic, pack, { qos: 1 });
    await shows(up[0] as Gateway);
  });
});

it("a stranger under its name, and no questions passed on: the log names the topic that the broker keeps back", async () => {
  const { gateway, mosquitto, site } = await bench(smallestLine, [`${own}/presence`]);
  ends.push(() => gateway.stop());
  const clientId = `drumlin-saltmarsh-house-${readFileSync(join(site.data, "instance"), "utf8").trim()}`;
  const foundAgain = () => gateway.printed().split("broker: found again").length - 1;
  for (let times = 0; times < 3; times += 1) {
    const stranger = await connectAsync(mosquitto.url, { clientId, clean: false, reconnectPeriod: 0 });
    stranger.on("error", () => {});
    await expect.poll(foundAgain, { timeout: 60_000 }).toBe(times + 1);
    await stranger.endAsync(true);
  }
  expect(gateway.printed()).toContain(`broker: passes on nothing under ${own}/presence`);
});
