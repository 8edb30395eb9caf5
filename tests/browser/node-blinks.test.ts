import { connectAsync, type MqttClient } from "mqtt";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";

const base = "drumlin/1/saltmarsh-house";
let browser: Browser;
let page: Page;
let token: string;
let gateway: Awaited<ReturnType<typeof startProcess>>;
const nodes: MqttClient[] = [];

beforeAll(async () => {
  const site = await newSite(["press", "drums"]);
  token = site.token;
  gateway = await startProcess(site);
  for (const [name, requests] of [
    ["press", ["identify"]],
    ["drums", []],
  ] as const) {
    const node = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
      username: name,
      password: site.secrets[name] as string,
    });
    nodes.push(node);
    await node.subscribeAsync(`${base}/${name}/request`, { qos: 1 });
    const hello = JSON.stringify({ state: "online", boot: 17, period_s: 5, requests });
    await node.publishAsync(`${base}/${name}/presence`, hello, { qos: 1, retain: true });
  }
  browser = await startChromium();
  page = await browser.newPage({
    viewport: { width: 390, height: 844 },
    extraHTTPHeaders: { authorization: `Bearer ${site.token}` },
  });
});
afterAll(async () => {
  await browser?.close();
  for (const node of nodes) await node.endAsync(true);
  await gateway?.stop();
});

it("a node that can is let blink from the page, by its own box; one that can't has no button; what it refuses is said there, in its own words, on a German page too", async () => {
  const [press] = nodes as [MqttClient];
  const no = { result: "refused", reason: "no-lamp" };
  const answers = [{ result: "done" }, no, no];
  press.on("message", (_topic, payload) => {
    const { id, boot } = JSON.parse(payload.toString());
    press.publish(`${base}/press/response`, JSON.stringify({ id, boot, ...answers.shift() }));
  });
  await page.goto(`http://127.0.0.1:${gateway.http}/#nodes`);
  const box = page.locator(".node", { has: page.getByRole("heading", { name: "press" }) });
  const button = box.getByRole("button", { name: "Make it blink: press" });
  await button.waitFor();
  expect(await page.getByRole("heading", { name: "drums" }).count()).toBe(1);
  expect(await page.getByRole("button", { name: /blink/ }).count()).toBe(1);
  await button.click();
  await box.getByText("press will blink for about 10 s.").waitFor();
  await button.click();
  await box.getByText("press refused it. Its own words: “no-lamp”").waitFor();
  const german = await browser.newPage({
    locale: "de-DE",
    viewport: { width: 390, height: 844 },
    extraHTTPHeaders: { authorization: `Bearer ${token}` },
  });
  await german.goto(`http://127.0.0.1:${gateway.http}/#nodes`);
  await german.getByRole("button", { name: "Blinken lassen: press" }).click();
  await german.getByText("press hat es abgelehnt. Seine eigenen Worte: „no-lamp“").waitFor();
  expect(answers).toEqual([]);
});
