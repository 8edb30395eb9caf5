import { connectAsync } from "mqtt";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points:
  after-resin: { conductivity: { channel: press/ec-2, at25: true } }
drums:
  mix: { volume: "200 L", fed_by: after-resin, control: manual }
`;

let browser: Browser;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let page: Page;
const streams: string[] = [];

beforeAll(async () => {
  const site = await newSite(["press"], yaml);
  gateway = await startProcess(site);
  const press = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "press",
    password: site.secrets.press as string,
  });
  browser = await startChromium();
  page = await browser.newPage({
    viewport: { width: 390, height: 844 },
    extraHTTPHeaders: { authorization: `Bearer ${site.token}` },
  });
  // What asks for the page's stream before its code is here comes after it: what it holds must never be taken for news.
  let isHere = () => {};
  const here = new Promise<void>((resolve) => (isHere = resolve));
  await page.route("**/early.js", async (route) => {
    await here;
    await route.continue();
  });
  page.on("request", (request) => request.url().includes("/api/live") && streams.push(request.url()));
  await page.goto(`http://127.0.0.1:${gateway.http}/`, { waitUntil: "commit" });
  await page.getByText("nothing heard yet").waitFor();
  const early = page.waitForResponse("**/early.js");
  isHere();
  await (await early).finished();
  await press.publishAsync(
    "drumlin/1/saltmarsh-house/press/readings",
    JSON.stringify([{ n: "ec-2", u: "S/m", v: 0.62e-4 }]),
    { qos: 1 },
  );
  await page.getByText("0.62", { exact: true }).waitFor();
  await press.endAsync(true);
});
afterAll(async () => {
  await browser?.close();
  if (gateway) process.kill(gateway.pid, "SIGCONT");
  await gateway?.stop();
});

describe("a gateway that hangs: its connections stay open and nothing comes", () => {
  it("while it is heard, two heartbeats keep a page without news live for longer than the 15 s", async () => {
    await page.waitForTimeout(16_500);
    expect(await page.locator("main.old").count()).toBe(0);
    await page.locator(".status", { hasText: "Live" }).waitFor();
    expect(streams).toHaveLength(1);
  });

  it("stopped by SIGSTOP: lost within 20 s, its values hollow with their age", async () => {
    // Seconds as the page has them: on a busy machine they are longer, for what judges the silence too.
    await page.evaluate(
      "globalThis.seconds = 0; setInterval(() => { if (!document.querySelector('main.old')) seconds += 1; }, 1000);",
    );
    process.kill(gateway.pid, "SIGSTOP");
    await page.getByText("No contact with the gateway since").waitFor();
    expect(await page.evaluate("seconds")).toBeLessThan(20);
    const point = page.locator(".cell");
    await expect.poll(() => point.locator(".val b").count()).toBe(0);
    // Its age is the bar's: what was fresh until then does not say it again.
    await point.getByText("was 0.62", { exact: true }).waitFor();
    await expect.poll(() => page.locator(".drum .why").textContent()).not.toContain("last heard");
    await expect
      .poll(() => page.locator("[data-announce=now]").textContent())
      .toBe("No contact with the gateway.");
  });

  it("acts can be reached, send nothing, and say so where the finger was", async () => {
    await page.getByRole("button", { name: "what you can do" }).click();
    const act = page.getByRole("dialog").getByRole("button", { name: "I'm filling now" });
    await expect.poll(() => act.getAttribute("aria-disabled")).toBe("true");
    const sent: string[] = [];
    page.on("request", (request) => request.method() === "POST" && sent.push(request.url()));
    await act.click({ force: true });
    await page.getByRole("dialog").getByText("nothing was sent").waitFor();
    await page.keyboard.press("Escape");
    expect(sent).toEqual([]);
  });

  it("Trend and the lists never say that there was none: they say that they could not load", async () => {
    await page.locator(".nav").getByRole("link", { name: "Trend" }).click();
    await page.getByText("Can't load fills").waitFor();
    expect(await page.getByText("No fills in this time").count()).toBe(0);
    await page.getByText(/Couldn't load: .*alarms/).waitFor();
    await page.locator(".nav").getByRole("link", { name: "Alarms" }).click();
    await page.getByText("Couldn't load the alarm log").waitFor();
    expect(await page.getByText("No alarms.", { exact: true }).count()).toBe(0);
  });

  it("it goes on: the page is live again by itself", async () => {
    process.kill(gateway.pid, "SIGCONT");
    await page.locator("main:not(.old)").waitFor();
    await page.locator(".status", { hasText: "Live" }).waitFor();
  });
});
