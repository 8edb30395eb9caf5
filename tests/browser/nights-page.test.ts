import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, goodDrum, goodPoint, startFixtureServer } from "./fixture-server.ts";
import { beganMs, hourMs, night, nightLine } from "./house/night.ts";

let browser: Browser;
let page: Page;
let fixture: Fixture;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

beforeAll(async () => {
  browser = await startChromium();
});
afterAll(() => browser?.close());

beforeEach(async () => {
  fixture = {
    now: () => Date.now(),
    points: (nowMs) => [goodPoint(nowMs)],
    drums: (nowMs) => [goodDrum(nowMs)],
    alarms: [],
    buckets: null,
    refuse: false,
    answers: new Map<string, unknown>([
      [
        "/api/nights",
        {
          items: [
            nightLine(24, { attention: "wake", watched: 0.97, litres: 231 }),
            nightLine(23),
            nightLine(22),
          ],
          next: null,
        },
      ],
      ["/api/nights/2026-11-24", night],
      [
        "/api/nights/2026-11-23",
        { ...night, date: "2026-11-23", first: [], fills: [], unwatched: [], watched: 1 },
      ],
    ]),
  };
  server = await startFixtureServer(fixture);
});
afterEach(async () => {
  await page?.close();
  await server?.stop();
});

async function open(width: number, colorScheme: "light" | "dark" = "light") {
  page = await browser.newPage({
    viewport: { width, height: 844 },
    colorScheme,
    timezoneId: "America/New_York",
  });
  await page.goto(`http://127.0.0.1:${server.port}/#nights`);
  await page.locator(".firsts li").first().waitFor();
  // The page's own sheet is there: it was lost once, and no test saw it.
  await expect
    .poll(() => page.evaluate("getComputedStyle(document.querySelector('.nightstrip')).display"))
    .toBe("flex");
}
const isSideways = () => page.evaluate<boolean>("document.documentElement.scrollWidth > innerWidth");

describe("the page Nights", () => {
  it("opens at the newest night: what to do first, how much was watched, in the zone of the house", async () => {
    await open(1280);
    await expect
      .poll(() => page.locator("#night h2").first().textContent())
      .toBe("Tuesday night, 24 November");
    await expect.poll(() => page.locator(".bigfacts").textContent()).toContain("97 %");
    expect(await page.locator(".firsts li").allTextContents()).toEqual([
      expect.stringContaining("Fresh drum: did not stop at its float (silent until 08:00)."),
      expect.stringContaining("Fresh drum: hold, over 5\u00a0µS/cm came in."),
    ]);
    // 20:00 UTC is 21:00 there, whatever the clock of the device says; the page says so.
    expect(await page.locator("#night .pagehead").textContent()).toContain(
      "21:00 to 07:00 · times of Europe/Berlin",
    );
    expect(await page.locator("aside").textContent()).toContain("01:18 to 01:36 · node press not heard");
    expect(await page.locator(".ncol[aria-current]").getAttribute("aria-label")).toBe(
      "Night of 24 November: 231 L, watched 97 %, trouble",
    );
    await expect.poll(isSideways).toBe(false);
  });

  it("what nobody watched is hatched in the night's bar, over its 18 min", async () => {
    await open(390, "dark");
    const gap = page.locator(".nightbar .gap");
    expect(await gap.getAttribute("style")).toMatch(/left: 43%; width: 3(\.0+\d*)?%/);
    await expect.poll(isSideways).toBe(false);
  });

  it("arrow keys go from night to night; a quiet one says so", async () => {
    await open(390);
    await page.locator(".ncol[aria-current]").focus();
    await page.keyboard.press("ArrowLeft");
    await page.getByText("Nothing. A quiet night.").waitFor();
    await expect.poll(() => page.url()).toContain("date=2026-11-23");
    await expect
      .poll(() => page.evaluate('document.activeElement.getAttribute("aria-label")'))
      .toContain("23 November");
  });

  it("the fill in trouble is opened first; another by a tap, with its float's mark on the axis of time", async () => {
    fixture.buckets = {
      unit: "L",
      bucketMs: 60_000,
      t: Array.from({ length: 60 }, (_, index) => beganMs + 6 * hourMs + (index - 5) * 30_000),
      min: Array.from({ length: 60 }, (_, index) => 90 + index),
      mean: Array.from({ length: 60 }, (_, index) => 90 + index),
      max: Array.from({ length: 60 }, (_, index) => 90 + index),
      count: Array.from({ length: 60 }, () => 3),
      flag: Array.from({ length: 60 }, () => 1 as const),
    };
    await open(1280);
    await page.locator("#fill h2", { hasText: "Fresh drum, 22:00 to 23:00" }).waitFor();
    await page.locator(".fillrow").nth(1).click();
    await page.locator("#fill h2", { hasText: "Fresh drum, 03:00 to 03:12" }).waitFor();
    await page.locator("#fill .flm", { hasText: "stop wet, 171 L" }).waitFor();
    await expect.poll(() => page.locator("#fill .panel").count()).toBe(3);
    await expect
      .poll(() => page.locator("#fill").textContent())
      .toContain("Float tripped at 171\u00a0L, inflow ended 4\u00a0s later.");
  });

  it("prints on two pages at most: no buttons, on white", async () => {
    await open(390, "dark");
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    await expect
      .poll(() => page.locator("#night .btn:visible, .acts:visible, textarea:visible").count())
      .toBe(0);
    await page.locator(".firsts").waitFor();
    const pdf = (await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(2);
  });

  it("when the gateway does not answer it says so, and not that there was no night", async () => {
    fixture.answers = new Map();
    page = await browser.newPage({ viewport: { width: 390, height: 844 } });
    await page.goto(`http://127.0.0.1:${server.port}/#nights`);
    await page.getByText("Couldn't load the nights.").waitFor();
    expect(await page.getByText("No night yet").count()).toBe(0);
  });
});
