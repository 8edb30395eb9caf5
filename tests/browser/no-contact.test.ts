import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { freePort } from "../acceptance/mosquitto.ts";
import { calmFixture } from "./calm-fixture.ts";
import { startChromium } from "./chromium.ts";
import { type Fixture, startFixtureServer } from "./fixture-server.ts";

let browser: Browser;
let server: Awaited<ReturnType<typeof startFixtureServer>>;
const fixture: Fixture = { ...calmFixture };

beforeAll(async () => {
  server = await startFixtureServer(fixture);
  browser = await startChromium();
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

describe("the page on a home screen", () => {
  it("can be installed: Chromium finds no fault in its manifest, and each icon has its size", async () => {
    const page = await browser.newPage();
    onTestFinished(() => page.close());
    await page.goto(`http://127.0.0.1:${server.port}/`);
    const cdp = await page.context().newCDPSession(page);
    const { errors, data } = await cdp.send("Page.getAppManifest");
    expect(errors).toEqual([]);
    const { icons } = JSON.parse(data ?? "{}") as { icons: { src: string; sizes: string }[] };
    for (const { src, sizes } of icons.filter((icon) => icon.src.endsWith(".png"))) {
      const file = fileURLToPath(new URL(`../../monitor-ui/dist${src}`, import.meta.url));
      // Width stands at byte 16 of a PNG (ISO/IEC 15948, IHDR).
      expect(`${readFileSync(file).readUInt32BE(16)}x${readFileSync(file).readUInt32BE(20)}`).toBe(sizes);
    }
    expect(
      icons.every(({ src }) =>
        existsSync(fileURLToPath(new URL(`../../monitor-ui/dist${src}`, import.meta.url))),
      ),
    ).toBe(true);
  });

  it("without contact it says so, shows no value, and comes back with the gateway", async () => {
    const page = await browser.newPage();
    onTestFinished(() => page.close());
    // A port that nobody is given while nothing listens there.
    const port = await freePort();
    await server.stop();
    server = await startFixtureServer(fixture, port);
    await page.goto(`http://127.0.0.1:${port}/`);
    await page.locator(".drum.use").waitFor();
    await page.evaluate("navigator.serviceWorker.ready.then(() => undefined)");
    await page.waitForFunction("navigator.serviceWorker.controller !== null");
    // Nothing but that page is kept.
    const kept = await page.evaluate(
      "caches.keys().then((names) => Promise.all(names.map((name) => caches.open(name).then((one) => one.keys())))).then((all) => all.flat().map((one) => new URL(one.url).pathname))",
    );
    expect(kept).toEqual(["/offline.html"]);
    await server.stop();
    await page.reload();
    await page.getByRole("heading", { name: "The gateway can't be reached" }).waitFor();
    await expect.poll(() => page.title()).toContain("No contact");
    const words = (await page.locator("body").textContent()) ?? "";
    expect(words).not.toMatch(/\buse\b|µS/);
    // What isn't a page fails, as it must.
    expect(await page.evaluate("fetch('/api/line').then(() => 'answered', () => 'failed')")).toBe("failed");
    server = await startFixtureServer(fixture, port);
    await page.getByRole("link", { name: "Try again" }).click();
    await page.locator(".drum.use").waitFor();
  });
});
