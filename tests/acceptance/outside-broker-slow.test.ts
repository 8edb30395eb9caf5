// A broker at the end of a slow link: what is waited for goes by how it answers.
import { cpSync } from "node:fs";
import { join } from "node:path";
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, describe, expect, it, vi } from "vitest";
import { startProxy } from "./broker-proxy.ts";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { endAll, ends, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

afterEach(endAll);

describe.each([3000])("a broker that is %i ms away, each way", (delayMs) => {
  it("takes a gateway, whose packs come in order; neither another one nor a copy starts beside it", async () => {
    const mosquitto = await startMosquitto();
    ends.push(() => mosquitto.stop());
    const proxy = await startProxy(mosquitto.port, delayMs);
    ends.push(() => proxy.stop());
    const site = await newSite(["press"]);
    const gateway = await startProcess(site, ["--broker", proxy.url]);
    ends.push(() => gateway.stop());
    const node = await connectAsync(mosquitto.url, { clientId: "node" });
    ends.push(() => node.endAsync(true));
    // Once it has subscribed over the slow link, what follows comes.
    await eventually(
      async () => {
        await node.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":20}]', { qos: 1 });
        return gateway.json<LineView>("/api/line");
      },
      (line) => line.points[0]?.temperature.value === 20,
    );
    for (const celsius of [21, 22, 23])
      await node.publishAsync(topic, `[{"n":"t-1","u":"Cel","v":${celsius}}]`, { qos: 1 });
    await eventually(
      () => gateway.json<LineView>("/api/line"),
      (line) => line.points[0]?.temperature.value === 23,
    );
    const copy = { ...site, data: join(site.folder, "copy") };
    cpSync(site.data, copy.data, { recursive: true, filter: (from) => !from.endsWith("lock") });
    const others = await Promise.allSettled(
      [await newSite(["press"]), copy].map((one) => startProcess(one, ["--broker", proxy.url])),
    );
    for (const one of others) if (one.status === "fulfilled") ends.push(() => one.value.stop());
    expect(others.map((one) => (one.status === "rejected" ? String(one.reason) : "it started"))).toEqual([
      expect.stringMatching(/Another gateway .* is online at this site/),
      expect.stringMatching(/A gateway with a copy of this data folder .* is online at this site/),
    ]);
    expect(gateway.printed()).not.toContain("broker: lost");
  });
});
