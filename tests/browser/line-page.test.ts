import { connectAsync, type MqttClient } from "mqtt";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2 }
stages:
  resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, flow: press/flow-1 }
drums:
  mix: { volume: "200 L", fed_by: after-resin, control: manual, stop: drums/float-2 }
`;

let browser: Browser;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let press: MqttClient;
let page: Page;

beforeAll(async () => {
  const site = await newSite(["press"], yaml);
  gateway = await startProcess(site);
  press = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "press",
    password: site.secrets.press as string,
  });
  browser = await startChromium();
  page = await browser.newPage({
    viewport: { width: 390, height: 844 },
    extraHTTPHeaders: { authorization: `Bearer ${site.token}` },
  });
});
afterAll(async () => {
  await browser?.close();
  await press?.endAsync(true);
  await gateway?.stop();
});

/** A pack made `agoS` seconds ago, by the node's own clock. */
function pack(kappa25: number, agoS: number, flowLPerMin = 3) {
  const t = Math.round(Date.now() - agoS * 1000) / 1000;
  const records = [
    { n: "t-1", u: "Cel", v: 25, t },
    { n: "ec-1", u: "S/m", v: 0.04, t },
    { n: "ec-2", u: "S/m", v: kappa25 * 1e-4, t },
    { n: "flow-1", u: "m3/s", v: flowLPerMin / 60_000, t },
  ];
  return press.publishAsync("drumlin/1/saltmarsh-house/press/readings", JSON.stringify(records), { qos: 1 });
}

describe("the page Line, in a real browser on a real gateway", () => {
  it("says what it does not know before the first reading", async () => {
    await page.goto(`http://127.0.0.1:${gateway.http}/`);
    await page.getByText("nothing heard yet").first().waitFor();
    expect(await page.locator(".cell.ok").count()).toBe(0);
    await expect.poll(() => page.locator(".drum .word").textContent()).toContain("unknown");
  });

  it("a stranger's value appears without a reload", async () => {
    await pack(0.62, 50);
    await page.locator(".cell", { hasText: "Supply" }).getByText("400", { exact: true }).waitFor();
    await page.locator(".cell", { hasText: "After resin" }).getByText("0.62", { exact: true }).waitFor();
    await page.getByText("not judged: first water").waitFor();
    expect(await page.locator(".cell.ok").count()).toBe(0);
  });

  it("gross breakthrough stands on the page within its delay, and is seen by a press of the button", async () => {
    await page.evaluate(`
      globalThis.said = [];
      const later = document.querySelector("[data-announce=later]");
      new MutationObserver(() => said.push(later.textContent)).observe(later, { childList: true, characterData: true, subtree: true });`);
    for (const ago of [40, 32, 24, 16, 8, 1]) await pack(390, ago);
    const alarm = page.locator(".arow");
    await alarm.getByRole("heading", { name: "After resin: letting salts through" }).waitFor();
    await expect.poll(() => alarm.textContent()).toContain("limit 5");
    // Told to a screen reader once, in a region of its own: the card with its live values is none.
    const said = async () => (await page.evaluate<string[]>("said")).join(" ");
    await expect.poll(said).toContain("After resin: letting salts through");
    expect((await said()).match(/letting salts through/g)).toHaveLength(1);
    expect(await page.getByRole("alert").count()).toBe(0);
    await alarm.getByRole("link", { name: "Open: After resin" }).click();
    const card = page.locator(".acard");
    await expect.poll(() => card.textContent()).toContain("Test ammonia");
    await card.getByRole("button", { name: "Mark as seen: After resin" }).click();
    await card.getByText("Marked as seen.").waitFor();
    await card.getByText("seen by program test").waitFor();
    // Focus did not fall to the page as the button went.
    await expect.poll(() => page.evaluate("document.activeElement?.closest('.acard') !== null")).toBe(true);
    await page.goBack();
    const { items } = await gateway.json<{
      items: { condition: string; state: string; acknowledgedBy: string }[];
    }>("/api/alarms");
    expect(items.filter(({ condition }) => condition === "resin-breakthrough")).toMatchObject([
      { state: "acknowledged", acknowledgedBy: "program:test" },
    ]);
  });

  it("the flow stops: still standing, said to be not judged", async () => {
    await pack(390, 0, 0);
    await page.locator(".arow").getByText("since").waitFor();
    await page.locator(".cell").getByText("not judged: no water running").waitFor();
  });

  it("what a node sends wrongly is shown at the node, by name, with an example", async () => {
    await press.publishAsync(
      "drumlin/1/saltmarsh-house/press/readings",
      '[{"n":"t-1","u":"%","v":3},{"n":"spare","u":"Pa","v":5}]',
      { qos: 1 },
    );
    await page.locator(".nav").getByRole("link", { name: "More" }).click();
    await page.getByRole("main").getByRole("link", { name: "Nodes" }).click();
    await page.getByText("press/spare").waitFor();
    await page.getByText("refused: what and why").click();
    await page.getByText('"%" means something else in SenML').waitFor();
    await page.getByRole("link", { name: "Line", exact: true }).click();
  });

  it("fits 390 and 320 px, and shows no error in the console", async () => {
    const errors: string[] = [];
    const fresh = await browser.newPage({ viewport: { width: 320, height: 700 }, colorScheme: "dark" });
    fresh.on("console", (message) => message.type() === "error" && errors.push(message.text()));
    fresh.on("pageerror", (error) => errors.push(error.message));
    await fresh.goto(`http://127.0.0.1:${gateway.http}/`);
    await fresh.locator(".cell .val b").first().waitFor();
    const widthOf = (of: Page) => of.evaluate<number>("document.documentElement.scrollWidth");
    await expect.poll(() => widthOf(fresh)).toBeLessThanOrEqual(320);
    await expect.poll(() => widthOf(page)).toBeLessThanOrEqual(390);
    expect(errors).toEqual([]);
    await fresh.close();
  });

  it("the gateway goes away: the page says so, and shows nothing as good", async () => {
    await gateway.stop();
    await page.getByText("No contact with the gateway since").waitFor();
    await page.locator("main.old").waitFor();
  });
});
