import { createServer } from "node:net";
import type { AlarmView, LineView, RejectionView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, describe, expect, it, vi } from "vitest";
import { eventually, newSite, smallestLine, startProcess } from "./gateway-process.ts";
import { bench, endAll, ends, foreign, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

afterEach(endAll);

describe("on a broker of somebody else", () => {
  it("a stranger's value is in the line", async () => {
    const { gateway, client } = await bench();
    ends.push(() => gateway.stop());
    await client.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":25},{"n":"ec-1","u":"S/m","v":0.0412}]', {
      qos: 1,
    });
    const line = await eventually(
      () => gateway.json<LineView>("/api/line"),
      (view) => view.points[0]?.conductivity25.value !== null,
    );
    expect(line.points[0]?.conductivity25.value).toBeCloseTo(412, 0);
  });

  it("a topic of another protocol is a channel: a plain number, and one inside JSON, each in its own unit", async () => {
    const { gateway, client } = await bench(foreign);
    ends.push(() => gateway.stop());
    await client.publishAsync("shed/thermometer", '{"now":[{"degrees":77}]}', { qos: 1 });
    await client.publishAsync("shed/ec", "0.412", { qos: 1 });
    const line = await eventually(
      () => gateway.json<LineView>("/api/line"),
      (view) => view.points[0]?.conductivity25.value !== null,
    );
    expect(line.points[0]?.conductivity.value).toBeCloseTo(412, 6);
    expect(line.points[0]?.temperature.value).toBeCloseTo(25, 6);
    await client.publishAsync("shed/ec", "lots", { qos: 1 });
    await client.publishAsync("shed/thermometer", '{"now":[]}', { qos: 1 });
    await client.publishAsync("shed/thermometer", "{", { qos: 1 });
    const refused = await eventually(
      async () =>
        (await gateway.json<{ items: RejectionView[] }>("/api/rejections")).items.map(({ code }) => code),
      (codes) => codes.length === 3,
    );
    expect(refused.sort()).toEqual(["foreign-not-a-number", "foreign-not-json", "foreign-pointer-misses"]);
  });

  it("other programs read points, drums and alarms, retained; what ended is taken away", async () => {
    const { gateway, client, mosquitto } = await bench();
    ends.push(() => gateway.stop());
    await client.publishAsync("drumlin/1/saltmarsh-house/gateway/alarms/gone:before", "{}", {
      qos: 1,
      retain: true,
    });
    await gateway.stop();
    const again = await startProcess(await newSite(["press"]), ["--broker", mosquitto.url]);
    ends.push(() => again.stop());
    await client.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":25},{"n":"ec-1","u":"S/m","v":0.0412}]', {
      qos: 1,
    });
    const told = new Map<string, string>();
    client.on("message", (from, payload) => told.set(from, payload.toString()));
    await client.subscribeAsync("drumlin/1/saltmarsh-house/gateway/#", { qos: 1 });
    const read = (rest: string) => told.get(`drumlin/1/saltmarsh-house/gateway/${rest}`) ?? "";
    await eventually(
      async () => ["points/supply", "drums/mix", "presence", "alarms/gone:before"].map(read),
      ([supply, mix, presence, gone]) =>
        (supply ?? "").includes('"value":412') && mix !== "" && presence !== "" && gone === "",
    );
    expect(JSON.parse(read("points/supply")).conductivity25.value).toBeCloseTo(412, 0);
    expect(JSON.parse(read("drums/mix")).water.verdict).toBe("unknown");
    expect(JSON.parse(read("presence")).state).toBe("online");
    expect(read("alarms/gone:before")).toBe("");
  });

  it("a sounder is asked to sound and to be quiet, for its node's start alone; the broker keeps nothing of it", async () => {
    const told = `${smallestLine}sounders: { hall: { channel: press/horn } }
floors: { press-room: press/floor }
notify: { to: { horn: { sounder: hall, takes: wake }, house: { mqtt: calls } } }
`;
    const { gateway, client, mosquitto } = await bench(told);
    ends.push(() => gateway.stop());
    const base = "drumlin/1/saltmarsh-house";
    const heard: { topic: string; retain: boolean; said: Record<string, unknown> }[] = [];
    client.on("message", (from, payload, { retain }) =>
      heard.push({ topic: from.slice(base.length + 1), retain, said: JSON.parse(payload.toString()) }),
    );
    await client.subscribeAsync([`${base}/press/request`, `${base}/gateway/calls`], { qos: 1 });
    const hello = JSON.stringify({ state: "online", boot: 17, protocol: 1, period_s: 1 });
    await client.publishAsync(`${base}/press/presence`, hello, { qos: 1, retain: true });
    const asked = (what: string) =>
      heard.filter(({ topic: on, said }) => on === "press/request" && said.request === what);
    await eventually(
      async () => {
        await client.publishAsync(topic, '[{"n":"floor","vb":true}]', { qos: 1 });
        return asked("sound").length;
      },
      (count) => count > 0,
    );
    expect(asked("sound")[0]).toMatchObject({ retain: false, said: { boot: 17, channel: "horn" } });
    const call = await eventually(
      async () => heard.find(({ topic: on }) => on === "gateway/calls"),
      (one) => one !== undefined,
    );
    expect(call).toMatchObject({ retain: false, said: { attention: "wake", open: 1 } });
    const alarms = await gateway.json<{ items: AlarmView[] }>("/api/alarms");
    const alarm = alarms.items.find(({ condition }) => condition === "floor-wet");
    await gateway.api(`/api/alarms/${encodeURIComponent(alarm?.key ?? "")}/acknowledge`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ occurrence: alarm?.occurrence }),
    });
    await eventually(
      async () => asked("quiet").length,
      (count) => count > 0,
    );
    const late = await connectAsync(mosquitto.url, { clientId: "late" });
    ends.push(() => late.endAsync(true));
    const kept: string[] = [];
    late.on("message", (from) => kept.push(from.slice(base.length + 1)));
    await late.subscribeAsync(`${base}/#`, { qos: 1 });
    await eventually(
      async () => kept,
      (topics) => topics.includes("press/presence") && topics.includes("gateway/presence"),
    );
    expect(kept.filter((on) => on === "press/request" || on === "gateway/calls")).toEqual([]);
  });

  it("a second gateway at the same site does not start, unless it is told to take over", async () => {
    const { gateway, mosquitto } = await bench();
    const other = await newSite(["press"]);
    await expect(startProcess(other, ["--broker", mosquitto.url])).rejects.toThrow(/is online at this site/);
    const taking = await startProcess(other, ["--broker", mosquitto.url, "--take-over"]);
    // The one that was there stops by itself, in order, and does not say that the site is offline.
    expect(await gateway.ended).toBe(0);
    expect(gateway.printed()).toContain("took this site over");
    const third = await newSite(["press"]);
    await expect(startProcess(third, ["--broker", mosquitto.url])).rejects.toThrow(/is online at this site/);
    await taking.stop();
  });

  it("starts again after its own kill -9: its presence was its own", async () => {
    const { gateway, start } = await bench();
    await gateway.kill();
    const again = await start();
    expect(await again.stop()).toBe(0);
  });
});

describe("a broker that died", () => {
  it("does not keep the gateway from ending, nor does one in its place that takes connections and says nothing", async () => {
    const { mosquitto, gateway, start } = await bench();
    await mosquitto.stop();
    await expect.poll(gateway.printed).toContain("broker: lost");
    const { port } = new URL(mosquitto.url);
    let came = 0;
    const silent = createServer((socket) => {
      came += 1;
      socket.on("error", () => {});
    });
    await new Promise<void>((resolve) => silent.listen(Number(port), "127.0.0.1", resolve));
    ends.push(() => silent.close());
    await expect.poll(() => came).toBeGreaterThan(0);
    const beganMs = performance.now();
    expect(await gateway.stop()).toBe(0);
    expect(performance.now() - beganMs).toBeLessThan(10_000);
    // At a start it is one plain sentence.
    await expect(start()).rejects.toThrow(/MQTT: The broker at 127\.0\.0\.1:\d+ can't be reached\./);
  });
});
