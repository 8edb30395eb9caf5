// A gateway that is started anew between a float's first and second wet reading.
import { connectAsync } from "mqtt";
import { afterEach, expect, it, vi } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { freePort } from "./mosquitto.ts";
import { endAll, ends } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });
afterEach(endAll);

const base = "drumlin/1/saltmarsh-house/drums";

it.each(["stopped", "killed"])(
  "a second reading is asked for once more by a gateway that was %s and started again",
  async (how) => {
    const site = await newSite(["drums"]);
    const port = await freePort();
    const start = () => startProcess(site, ["--mqtt", `127.0.0.1:${port}`]);
    const first = await start();
    const node = await connectAsync(`mqtt://127.0.0.1:${port}`, {
      username: "drums",
      password: site.secrets.drums as string,
      clientId: "drums",
      reconnectPeriod: 100,
    });
    node.on("error", () => {});
    ends.push(() => node.endAsync(true));
    const asked: string[] = [];
    node.on("message", (_topic, payload) => asked.push(JSON.parse(payload.toString()).request));
    await node.subscribeAsync(`${base}/request`);
    const hello = { state: "online", boot: 17, period_s: 60, requests: ["report-now"] };
    await node.publishAsync(`${base}/presence`, JSON.stringify(hello), { qos: 1, retain: true });
    const reads = (wet: boolean) =>
      node.publishAsync(`${base}/readings`, JSON.stringify([{ n: "float-1", vb: wet }]), { qos: 1 });
    await reads(false);
    await reads(true);
    await eventually(
      async () => (await first.api("/metrics")).text(),
      (text) => text.includes("drumlin_readings_total 2\n"),
    );
    // Before it is asked for the first time, 3.1 s after its reading.
    await (how === "stopped" ? first.stop() : first.kill());
    expect(asked).toEqual([]);
    const second = await start();
    ends.push(() => second.stop());
    await eventually(
      async () => asked.length,
      (count) => count > 0,
    );
    expect(asked[0]).toBe("report-now");
  },
);
