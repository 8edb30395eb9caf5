import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { connectAsync, type MqttClient } from "mqtt";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
stages: { carbon: { kind: carbon, from: supply, to: after-carbon } }
drums:
  mix: { title: Mixing drum, volume: 200 L, fed_by: after-carbon, control: manual, holds: salt, target: { salinity: 35 }, inlet: { channel: drums/valve }, stop: drums/stop, conductivity: drums/ec, temperature: drums/t }
`;

/** Half an hour passes in 6 s, but where a test says that it takes its time. */
const speed = 300;
let clock = "";
const timePasses = (times: number) => writeFileSync(clock, `0 ${times}`);
const preload = new URL("../acceptance/fake-clock.mjs", import.meta.url).href;

let browser: Browser;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let node: MqttClient;
let page: Page;

beforeAll(async () => {
  const site = await newSite(["drums"], yaml);
  clock = join(site.folder, "clock");
  timePasses(speed);
  gateway = await startProcess(site, [], {
    nodeArguments: ["--import", preload],
    env: { TEST_CLOCK_FILE: clock },
  });
  node = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "drums",
    password: site.secrets.drums as string,
  });
  packs = setInterval(say, 50);
  browser = await startChromium();
  page = await browser.newPage({
    viewport: { width: 390, height: 844 },
    extraHTTPHeaders: { authorization: `Bearer ${site.token}` },
  });
  await page.goto(`http://127.0.0.1:${gateway.http}/`);
});
afterAll(async () => {
  clearInterval(packs);
  await browser?.close();
  await node?.endAsync(true);
  await gateway?.stop();
});

/** What the drum's node says; a pack each 15 s of the gateway's time. */
const says = { valve: false, kappaSPerM: 0.001 };
let packs: NodeJS.Timeout;

function say(): void {
  const { valve, kappaSPerM } = says;
  const records = [
    { n: "stop", vb: false },
    { n: "valve", vb: valve },
    { n: "t", u: "Cel", v: 25 },
    { n: "ec", u: "S/m", v: kappaSPerM },
  ];
  node.publish("drumlin/1/saltmarsh-house/drums/readings", JSON.stringify(records));
}

const sheet = () => page.getByRole("dialog");
const shows = (text: string | RegExp) => page.locator(".drum .facts").getByText(text).waitFor();

/** Says a step on the sheet, filling in what it asks for. */
async function step(words: string, fields: Readonly<Record<string, string>> = {}): Promise<void> {
  await page.locator(".drum").getByRole("button", { name: "what you can do" }).click();
  await sheet().getByRole("button", { name: "Batch…" }).click();
  await sheet().getByRole("button", { name: words, exact: true }).click();
  for (const [label, value] of Object.entries(fields)) await sheet().getByLabel(label).fill(value);
  await sheet().getByRole("button", { name: "Save", exact: true }).click();
}

const closed = () => sheet().waitFor({ state: "detached" });

describe("a batch of salt water on a phone", () => {
  it("goes from empty to ready, each step shown as it is said or seen; what can't be is refused in words", async () => {
    await step("I emptied it");
    await closed();
    await shows(/^Empty since/);
    says.valve = true;
    await shows(/^Filling with fresh water since/);
    says.valve = false;
    await shows(/^Fresh water, no salt yet since/);
    // From here half an hour must not be over before it is asked for.
    timePasses(1);
    await step("Salt went in", { "Salt, kg": "6,3", Lot: "A-117" });
    await closed();
    await shows(/Salt went in since .+ · 6.3\skg of salt, lot A-117/);
    await page.locator(".drum .word", { hasText: "hold" }).waitFor();
    await step("It is ready", { "Salinity you measured": "35" });
    await sheet().getByText("Let it mix for 30 min, then measure it.").waitFor();
    await sheet().getByRole("button", { name: "Cancel" }).click();
    says.kappaSPerM = 5.306;
    await shows(/^Mixing since/);
    await expect
      .poll(() => page.locator(".drum").getByRole("button", { name: "I'm filling now" }).count())
      .toBe(0);
    timePasses(speed);
    await shows(/^Ready since .+ · salinity 35, wanted 35/);
    await step("It is in use");
    await closed();
    await shows(/^In use since/);
  });
});
