// A real Mosquitto whose rules refuse subscriptions: its plugin for rules answers with 0x80, which its list of topics never does.
import { globSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { LineView } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterEach, expect, it, vi } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { startMosquitto } from "./mosquitto.ts";
import { endAll, ends, topic } from "./outside-broker-bench.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

afterEach(endAll);

const plugin =
  process.env.DRUMLIN_MOSQUITTO_RULES ?? globSync("/usr/lib/*/mosquitto_dynamic_security.so")[0] ?? "missing";
const readings = "drumlin/1/saltmarsh-house/+/readings";
const presences = "drumlin/1/saltmarsh-house/+/presence";

/** Rules by which everybody may everything, but for the subscriptions that are refused. */
const rules = (refused: readonly string[]) =>
  JSON.stringify({
    defaultACLAccess: {
      publishClientSend: true,
      publishClientReceive: true,
      subscribe: true,
      unsubscribe: true,
    },
    anonymousGroup: "everybody",
    groups: [{ groupname: "everybody", roles: [{ rolename: "most" }] }],
    roles: [
      {
        rolename: "most",
        acls: refused.map((name) => ({
          acltype: "subscribeLiteral",
          topic: name,
          priority: 1,
          allow: false,
        })),
      },
    ],
  });

it("the topics are named, in the log once and in /readyz, what was granted is heard; once they are granted, so is the rest", async () => {
  const site = await newSite(["press"]);
  const file = join(site.folder, "rules.json");
  const set = (refused: readonly string[]) => writeFileSync(file, rules(refused));
  set([readings]);
  const mosquitto = await startMosquitto(null, 0, [], [`plugin ${plugin}`, `plugin_opt_config_file ${file}`]);
  ends.push(() => mosquitto.stop());
  const gateway = await startProcess(site, ["--broker", mosquitto.url]);
  ends.push(() => gateway.stop());
  const text = `its rules do not let this gateway read ${readings}`;
  const readiness = async () => JSON.stringify(await gateway.json("/readyz"));
  const named = (what: string) => gateway.printed().split(what).length - 1;
  await expect.poll(readiness).toContain(text);
  expect(await readiness()).not.toContain(presences);

  const node = await connectAsync(mosquitto.url, { clientId: "node" });
  ends.push(() => node.endAsync(true));
  const presence = { state: "online", boot: 3, firmware: "0.1", protocol: 1, period_s: 5, channels: [] };
  await node.publishAsync(topic.replace("readings", "presence"), JSON.stringify(presence), { qos: 1 });
  await expect
    .poll(async () => JSON.stringify(await gateway.json("/api/nodes")), { timeout: 60_000 })
    .toContain('"0.1"');
  await node.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":20}]', { qos: 1 });
  expect((await gateway.json<LineView>("/api/line")).points[0]?.temperature.value ?? null).toBeNull();

  await mosquitto.restart();
  await expect.poll(() => named("broker: found again"), { timeout: 60_000 }).toBe(1);
  await expect.poll(readiness).toContain(text);
  // Refused again as before: nothing new.
  expect(named(text)).toBe(1);

  set([]);
  await mosquitto.restart();
  await expect.poll(readiness, { timeout: 60_000 }).toBe('{"ready":true}');
  await eventually(
    async () => {
      if (node.connected) await node.publishAsync(topic, '[{"n":"t-1","u":"Cel","v":21}]', { qos: 1 });
      return gateway.json<LineView>("/api/line");
    },
    (line) => line.points[0]?.temperature.value === 21,
  );
});
