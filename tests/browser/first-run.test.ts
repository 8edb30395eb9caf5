import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync, type MqttClient } from "mqtt";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { drumlin } from "../acceptance/command-line.ts";
import { startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";

const folder = mkdtempSync(join(tmpdir(), "drumlin-first-run-"));
const line = join(folder, "line.yaml");
const data = join(folder, "data");
let browser: Browser;
let page: Page;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let node: MqttClient;

beforeAll(async () => {
  browser = await startChromium();
  page = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage();
});
afterAll(async () => {
  await browser?.close();
  await node?.endAsync(true);
  await gateway?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const say = (records: object[]) =>
  node.publishAsync("drumlin/1/saltmarsh-house/press/readings", JSON.stringify(records), { qos: 1 });
const open = (name: string) => page.locator(".nav").getByRole("link", { name }).click();

describe("the first run, rehearsed", () => {
  it("a picture is chosen, the file is good, the gateway runs", async () => {
    const made = await drumlin(["new", "--picture", "resin", "--site", "saltmarsh-house", "--out", line]);
    expect(made.code).toBe(0);
    const again = await drumlin(["new", "--picture", "resin", "--site", "x", "--out", line]);
    expect([again.code, again.errors]).toEqual([1, expect.stringContaining("nothing was written")]);
    expect((await drumlin(["check", line])).code).toBe(0);
    gateway = await startProcess({ line, data });
  });

  it("the printed code makes the first account", async () => {
    await page.goto(`http://127.0.0.1:${gateway.http}/`);
    await page.getByRole("link", { name: "Make the first account" }).click();
    const code = /Set-up code, for the first one: (\S+)/.exec(gateway.printed())?.[1] ?? "";
    await page.getByLabel("Set-up code").fill(code);
    await page.getByLabel("Name").fill("Mara");
    await page.getByLabel("Password").fill("brackish mornings");
    await page.getByRole("button", { name: "Make the account" }).click();
    await page.locator(".nav").getByRole("link", { name: "More" }).click();
    await page.getByRole("heading", { name: "Mara" }).waitFor();
  });

  it("a node is added and its own probe appears, raw and belonging to nothing", async () => {
    await open("Line");
    await page.getByText("Nothing has been heard yet.").waitFor();
    await page.getByRole("button", { name: "Make a secret for press" }).click();
    const lines = await page.locator(".node-secret .cmd pre").first().textContent();
    const password = /password (\S+)/.exec(lines ?? "")?.[1] ?? "";
    // The line to try has it in place.
    expect(await page.getByText("mosquitto_pub").textContent()).toContain(`-u press -P ${password}`);
    node = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, { username: "press", password });
    await say([{ n: "my-own-probe", u: "S/m", v: 0.0412 }]);
    await page.getByText("Nothing has been heard yet.").waitFor({ state: "detached" });
    await open("More");
    await page.getByRole("main").getByRole("link", { name: "Nodes" }).click();
    await page.getByText("press/my-own-probe").waitFor();
    await page.locator(".unassigned").getByText("no place yet").waitFor();
  });

  it("assigned to the supply, it is the supply's; what it said before is kept", async () => {
    await page.getByLabel("Place of press/my-own-probe").selectOption("points/supply/conductivity");
    await page.getByRole("button", { name: "Assign" }).click();
    await page.getByText("press/my-own-probe").waitFor({ state: "detached" });
    await say([{ n: "my-own-probe", u: "S/m", v: 0.0412 }]);
    await open("Line");
    await page.locator(".cell .val b").first().waitFor();
    const readings = async () => {
      const series = await page.evaluate(
        "fetch('/api/points/supply/series?buckets=50').then((answer) => answer.json())",
      );
      return (series as { count: number[] }).count.reduce((sum, n) => sum + n, 0);
    };
    await expect.poll(readings).toBeGreaterThanOrEqual(2);
  });

  it("its limit is changed with a comma, and stands in the file with its comments", async () => {
    await page.getByRole("link", { name: "Supply", exact: true }).click();
    await page
      .getByLabel(/True conductivity of the standard/)
      .first()
      .fill("424,4");
    await page.getByRole("button", { name: "Calibrate", exact: true }).click();
    await page.getByText("Calibrated.").waitFor();
    await say([{ n: "my-own-probe", u: "S/m", v: 0.0412 }]);
    await expect
      .poll(async () => (await page.locator(".now-card .val b").textContent())?.trim())
      // 424.4 at an assumed 15 °C is 533 at 25 °C.
      .toBe("533");
  });

  it("the mixing drum is filled by hand: so it stands in the file, and the page offers it", async () => {
    const { yaml, version } = (await page.evaluate(
      "fetch('/api/line/file').then((answer) => answer.json())",
    )) as { yaml: string; version: string };
    const byHand = yaml.replace(/(mix:[\s\S]*?control: )automatic/, "$1manual");
    await page.evaluate(
      `fetch('/api/line/file', { method: 'POST', headers: { 'content-type': 'application/json' }, body: ${JSON.stringify(JSON.stringify({ yaml: byHand, version }))} })`,
    );
    await open("Line");
    const mix = page.locator(".drum", { hasText: "Mix" });
    await mix.getByRole("button", { name: "what you can do" }).click();
    await mix.getByRole("button", { name: "I'm filling now" }).waitFor();
  });

  it("the first fill by hand: it counts, ends, and the drum says what is missing", async () => {
    const mix = page.locator(".drum", { hasText: "Mix" });
    await mix.getByRole("button", { name: "I'm filling now" }).click();
    await mix.getByText("Counting this fill.").waitFor();
    await mix.getByRole("button", { name: "Filling finished" }).click();
    await mix.getByText("The fill has ended.").waitFor();
    await mix.getByRole("button", { name: "Filling finished" }).waitFor({ state: "detached" });
    await page.getByRole("dialog").getByText("Litres: no level sensor here.").waitFor();
    await page.keyboard.press("Escape");
    await mix.getByText("unknown").first().waitFor();
  });
});
