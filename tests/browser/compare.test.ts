import { readFile } from "node:fs/promises";
import type { Buckets } from "@drumlin/gateway/contract";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { atRest } from "./at-rest.ts";
import { calmFixture } from "./calm-fixture.ts";
import { startChromium } from "./chromium.ts";
import { type Fixture, startFixtureServer } from "./fixture-server.ts";

let browser: Browser;
let page: Page;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

const fixture: Fixture = { ...calmFixture };

beforeAll(async () => {
  server = await startFixtureServer(fixture);
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 1000, height: 900 } });
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

describe("fills of one drum, laid over each other", () => {
  const hourMs = 3_600_000;
  const fill = (id: string, startMs: number, minutes: number) => ({
    id,
    drum: "fresh",
    startedAt: new Date(startMs).toISOString(),
    endedAt: new Date(startMs + minutes * 60_000).toISOString(),
    litres: 100,
    estimated: false,
    mean25: 0.6,
    peak25: 0.9,
    firstWater25: null,
    end: "inflow-stopped",
    trippedAt: null,
    tripAt: null,
    tripConfirmed: null,
    watched: 1,
    reasons: [],
    basis: "flow-meter",
  });
  const begun = Math.floor(Date.now() / hourMs) * hourMs - 30 * hourMs;
  /** 50 L at the start of each fill, one more each minute. */
  const rising = (fromMs: number, toMs: number, count: number): Buckets => {
    const bucketMs = (toMs - fromMs) / count;
    const t = Array.from({ length: count }, (_, at) => fromMs + at * bucketMs);
    const litres = t.map((ms) => 50 + ((ms - begun) % hourMs) / 60_000);
    return {
      unit: "L",
      bucketMs,
      t,
      min: litres,
      mean: litres,
      max: litres,
      count: t.map(() => 3),
      flag: t.map(() => 1),
    };
  };

  it("each from its own start, to its own end; the cursor says each, the table is theirs", async () => {
    fixture.series = rising;
    fixture.answers = new Map([
      [
        "/api/fills",
        {
          items: [fill("3", begun + 9 * hourMs, 20), fill("2", begun + 4 * hourMs, 40), fill("1", begun, 30)],
          next: null,
        },
      ],
    ]);
    await page.goto(`http://127.0.0.1:${server.port}/#trend?show=drums/fresh/volume&hours=24`);
    await page.locator(".tcharts .panel").first().waitFor();
    await page.getByRole("link", { name: "Compare fills" }).click();
    await page.getByRole("heading", { name: "Compare fills" }).waitFor();
    await page.locator(".tcharts .env").nth(2).waitFor({ state: "attached" });
    await expect.poll(() => page.locator(".tcharts .x").textContent()).toMatch(/^0.*10\smin.*40\smin$/);
    await atRest(page, server);
    await page.locator(".tcharts").focus();
    const at = page.locator(".at-fills");
    // Half of the shortest, 20 min; then one and a half tenths of the longest, 40 min, later: all three run.
    await at.getByText("10 min after the start").waitFor();
    await page.keyboard.press("Shift+ArrowRight");
    for (let times = 0; times < 5; times += 1) await page.keyboard.press("ArrowRight");
    await at.getByText("16 min after the start").waitFor();
    const said = () => at.locator("li b").allTextContents();
    await expect.poll(async () => (await said()).every((text) => /^6[56](\.\d)?\sL$/.test(text))).toBe(true);
    for (let times = 0; times < 4; times += 1) await page.keyboard.press("Shift+ArrowRight");
    // After 32 min the two that were shorter have nothing to say.
    await expect.poll(async () => (await said()).filter((text) => text === "no reading").length).toBe(2);
    const [csv] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "CSV" }).click(),
    ]);
    const rows = (await readFile(await csv.path(), "utf8")).trim().split("\r\n");
    expect(rows[0]).toBe("fill,seconds,mean [L],min [L],max [L],count,flag");
    expect(rows).toContain(`${new Date(begun).toISOString()},600,60,60,60,3,1`);
    const [picture] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Picture" }).click(),
    ]);
    expect((await readFile(await picture.path())).subarray(1, 4).toString()).toBe("PNG");
    // One taken away: the link keeps the other two.
    await page.locator(".chips").last().getByRole("button").first().click();
    await expect.poll(() => page.url()).toContain("fills=2,1");
    await page.reload();
    await expect.poll(() => page.locator(".tcharts .env").count()).toBe(2);
  });
});
