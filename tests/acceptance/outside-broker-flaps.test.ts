// A way to the broker that is up and down every other moment.
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, expect, it, vi } from "vitest";
import { startProxy } from "./broker-proxy.ts";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { endAll, ends, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

afterEach(endAll);

it("nothing that the broker took is missing or there twice; it is tried ever more seldom, and told of no oftener", async () => {
  const mosquitto = await startMosquitto();
  ends.push(() => mosquitto.stop());
  const proxy = await startProxy(mosquitto.port);
  ends.push(() => proxy.stop());
  const gateway = await startProcess(await newSite(["press"]), ["--broker", proxy.url]);
  ends.push(() => gateway.stop());
  const node = await connectAsync(mosquitto.url, { clientId: "node" });
  ends.push(() => node.endAsync(true));
  const nodeNow = async () => (await gateway.json<LineView>("/api/line")).nodes[0];
  let seq = 0;
  const say = async () => {
    await node.publishAsync(topic, JSON.stringify([{ boot: 5, seq, n: "ec-1", u: "S/m", v: 0.04 }]), {
      qos: 1,
    });
    seq += 1;
  };
  await say();
  await eventually(nodeNow, (one) => one?.packs === 1);
  // Each connection is cut off as soon as it brought something.
  let awayMs = 0;
  const lost = () => gateway.printed().split("broker: lost").length - 1;
  for (let times = 1; times <= 5; times += 1) {
    const lostMs = performance.now();
    proxy.goDown();
    await expect.poll(lost).toBe(times);
    for (let packs = 0; packs < 20; packs += 1) await say();
    proxy.comeUp();
    const all = seq;
    await eventually(nodeNow, (one) => one?.packs === all);
    awayMs = performance.now() - lostMs;
  }
  expect(await nodeNow()).toMatchObject({ packs: seq, gaps: 0 });
  // The fifth wait is 8 s on average, 4 s at least; one that began anew each time would be 0.75 s at most.
  expect(awayMs).toBeGreaterThanOrEqual(4000);
  expect(gateway.printed().split("broker: ").length - 1).toBeLessThanOrEqual(20);
});
