import type { Buckets, LineView } from "@drumlin/gateway/contract";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { afterEach, describe, expect, it, vi } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { bench, endAll, ends, foreign, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

afterEach(endAll);

describe("Mosquitto restarted and the gateway killed under load", () => {
  it("all that the broker took is stored, and nothing twice", async () => {
    const { mosquitto, site, start, gateway, client } = await bench();
    const firstMs = Date.now() - 3_600_000;
    const packs = 6000;
    const acknowledged = new Set<number>();
    let over = false;
    const publishing = (async () => {
      for (let seq = 0; seq < packs && !over; seq += 1) {
        const pack = [{ boot: 5, seq, n: "ec-1", u: "S/m", v: (seq + 1) * 1e-6, t: (firstMs + seq) / 1000 }];
        client.publish(topic, JSON.stringify(pack), { qos: 1 }, (error) => {
          if (!error) acknowledged.add(seq);
        });
        if (seq % 20 === 19) await new Promise((resolve) => setTimeout(resolve, 8));
      }
    })();
    const reached = (count: number) =>
      eventually(
        async () => acknowledged.size,
        (size) => size >= count,
      );
    await reached(1000);
    await gateway.kill();
    let running = await start();
    await reached(2500);
    await mosquitto.restart();
    await reached(4000);
    await running.kill();
    running = await start();
    await publishing;
    over = true;
    expect(await reached(packs)).toBe(packs);
    // The last pack has come: the session brought everything that the broker kept.
    const range = `from=${firstMs}&to=${firstMs + packs}&buckets=1`;
    await eventually(
      () => running.json<Buckets>(`/api/points/supply/series?quantity=conductivity&${range}`),
      ({ count }) => count.reduce((sum, one) => sum + one, 0) >= packs,
    );
    const node = (await running.json<LineView>("/api/line")).nodes[0];
    expect(await running.stop()).toBe(0);
    const series = await openSqliteSeries({ folder: site.data });
    const found: number[] = [];
    for await (const rows of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
      found.push(...rows.map(({ value }) => Math.round((value ?? 0) * 1e6) - 1));
    await series.close();
    expect(new Set(found).size).toBe(found.length);
    const lost = packs - found.length;
    // Mosquitto was stopped in an orderly way and keeps its queue: it loses nothing here, and a gap would say so.
    expect(lost).toBe(0);
    expect(node?.gaps).toBe(0);
  });
});

describe("Mosquitto killed under load", () => {
  it("what was lost with it is counted as missing, all else is stored, and nothing twice", async () => {
    const { mosquitto, site, gateway, client } = await bench();
    const firstMs = Date.now() - 3_600_000;
    const packs = 4000;
    const acknowledged = new Set<number>();
    const packOf = (seq: number) =>
      JSON.stringify([{ boot: 5, seq, n: "ec-1", u: "S/m", v: (seq + 1) * 1e-6, t: (firstMs + seq) / 1000 }]);
    const publishing = (async () => {
      for (let seq = 0; seq < packs - 1; seq += 1) {
        client.publish(topic, packOf(seq), { qos: 1 }, (error) => {
          if (!error) acknowledged.add(seq);
        });
        if (seq % 20 === 19) await new Promise((resolve) => setTimeout(resolve, 8));
      }
    })();
    for (const count of [800, 2400]) {
      await expect.poll(() => acknowledged.size, { timeout: 60_000 }).toBeGreaterThan(count);
      await mosquitto.killAndStart();
    }
    await publishing;
    // A client that was cut off may never bring what it had under way: the last pack comes by another one.
    await client.endAsync(true);
    const last = await connectAsync(mosquitto.url, { clientId: "last" });
    ends.push(() => last.endAsync(true));
    // Killed, it forgot the session as well: what came until the gateway had subscribed again went to nobody, the last too.
    const nodeNow = async () => (await gateway.json<LineView>("/api/line")).nodes[0];
    await expect
      .poll(
        async () => {
          await last.publishAsync(topic, packOf(packs - 1), { qos: 1 });
          const node = await nodeNow();
          return (node?.packs ?? 0) + (node?.gaps ?? 0);
        },
        { timeout: 60_000 },
      )
      .toBeGreaterThanOrEqual(packs);
    const gaps = (await nodeNow())?.gaps ?? 0;
    expect(await gateway.stop()).toBe(0);
    const series = await openSqliteSeries({ folder: site.data });
    const found: number[] = [];
    for await (const rows of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
      found.push(...rows.map(({ value }) => Math.round((value ?? 0) * 1e6) - 1));
    await series.close();
    expect(new Set(found).size).toBe(found.length);
    expect(found.length + gaps).toBe(packs);
  });
});

describe("a broker that keeps too little", () => {
  it("what it lost while the gateway was away is counted by the node's own numbers", async () => {
    const mosquitto = await startMosquitto(null, 20);
    ends.push(() => mosquitto.stop());
    const site = await newSite(["press"]);
    const first = await startProcess(site, ["--broker", mosquitto.url]);
    const client = await connectAsync(mosquitto.url, { clientId: "node" });
    ends.push(() => client.endAsync(true));
    const say = (seq: number) =>
      client.publishAsync(topic, JSON.stringify([{ boot: 5, seq, n: "ec-1", u: "S/m", v: 0.04 }]), {
        qos: 1,
      });
    await say(0);
    await eventually(
      () => first.json<LineView>("/api/line"),
      (view) => (view.nodes[0]?.packs ?? 0) === 1,
    );
    await first.stop();
    for (let seq = 1; seq <= 200; seq += 1) await say(seq);
    const again = await startProcess(site, ["--broker", mosquitto.url]);
    ends.push(() => again.stop());
    await say(201);
    const heard = await eventually(
      () => again.json<LineView>("/api/line"),
      (view) => (view.nodes[0]?.packs ?? 0) + (view.nodes[0]?.gaps ?? 0) >= 202,
    );
    const { packs = 0, gaps = 0 } = heard.nodes[0] ?? {};
    // The counts go on over a restart: 0 to 201.
    expect(packs + gaps).toBe(202);
    expect(gaps).toBeGreaterThan(100);
  });
});

describe("what a broker kept", () => {
  it("of another protocol has no time, and is not shown as new; a topic mapped later is heard", async () => {
    const { gateway, client } = await bench();
    ends.push(() => gateway.stop());
    await client.publishAsync("shed/ec", "0.9", { qos: 1, retain: true });
    const { version } = await gateway.json<{ version: string }>("/api/line/file");
    const saved = await gateway.api("/api/line/file", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ yaml: foreign, version }),
    });
    expect(saved.status).toBe(200);
    // Said again until it is heard: what came before the gateway had asked the broker for it is nobody's.
    const warm = await eventually(
      async () => {
        await client.publishAsync("shed/thermometer", '{"now":[{"degrees":77}]}', { qos: 1 });
        return gateway.json<LineView>("/api/line");
      },
      (view) => view.points[0]?.temperature.value !== null,
    );
    expect(warm.points[0]?.temperature.value).toBeCloseTo(25, 6);
    expect(warm.points[0]?.conductivity.value).toBeNull();
    await client.publishAsync("shed/ec", "0.412", { qos: 1 });
    const now = await eventually(
      () => gateway.json<LineView>("/api/line"),
      (view) => view.points[0]?.conductivity.value !== null,
    );
    expect(now.points[0]?.conductivity.value).toBeCloseTo(412, 6);
    expect(now.nodes.map(({ id, lastSeen }) => [id, lastSeen !== null])).toEqual([["press", true]]);
  });
});
