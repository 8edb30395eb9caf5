import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startChromium, startChromiumOf } from "./chromium.ts";
import { startFixtureServer } from "./fixture-server.ts";
import { faultsOfLayout } from "./geometry.ts";
import { scenes, showScenes } from "./house/scenes.ts";
import { inState } from "./house/states.ts";

let context: BrowserContext;
let page: Page;
let show: ReturnType<typeof showScenes>;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

/** The browser's own setting, not a style of the page: media queries in rem follow it too. */
const textPx = 32;

beforeAll(async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-reader-"));
  mkdirSync(join(folder, "Default"));
  const webprefs = { default_font_size: textPx, default_fixed_font_size: (textPx * 13) / 16 };
  writeFileSync(join(folder, "Default", "Preferences"), JSON.stringify({ webkit: { webprefs } }));
  const fixture = inState("calm");
  server = await startFixtureServer(fixture);
  context = await startChromiumOf(folder);
  page = context.pages()[0] ?? (await context.newPage());
  show = showScenes(page, fixture, server);
});
afterAll(async () => {
  await context?.close();
  await server?.stop();
});

const shown = scenes.filter(({ name, state }) => state === "calm" || name === "line-flood");
/** Layout itself is tried at 320 px by another test: here what a window of 211 px leaves no height for. */
const low = [
  "line-calm",
  "alarms-calm",
  "trend-calm",
  "compare-calm",
  "drum-calm",
  "form-batch",
  "line-flood",
];

describe("at twice the browser's own text size, nothing is wider, cut or on something else", () => {
  it("on a phone of 390 px", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    const found: string[] = [];
    for (const scene of shown) {
      await show(scene);
      expect(await page.evaluate("getComputedStyle(document.documentElement).fontSize")).toBe(`${textPx}px`);
      found.push(
        ...(await faultsOfLayout(page, { mayShorten: true, focusToo: false })).map(
          (fault) => `${scene.name}: ${fault}`,
        ),
      );
    }
    expect(found).toEqual([]);
  });

  it("at whatever minute the page is opened: the times under a chart keep off each other", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await show(scenes.find(({ name }) => name === "point-calm") as (typeof scenes)[number]);
    await page.locator(".panel .x span").first().waitFor({ state: "attached" });
    for (let percent = 0; percent < 25; percent += 1) {
      await page.evaluate(`for (const [index, tick] of document.querySelectorAll(".panel .x span").entries()) {
        const at = ${percent} + 0.1 + 25 * index;
        tick.style.setProperty("--at", at + "%");
        tick.className = at < 3 ? "first" : at > 97 ? "last" : "";
      }`);
      expect([percent, await faultsOfLayout(page, { mayShorten: true, focusToo: false })]).toEqual([
        percent,
        [],
      ]);
    }
  });
});

it("at 400 % zoom of a screen of 1280 × 844, nothing is wider, cut or on something else", async () => {
  const browser = await startChromium();
  const fixture = inState("calm");
  const own = await startFixtureServer(fixture);
  try {
    const zoomed = await browser.newPage({ viewport: { width: 320, height: 211 }, reducedMotion: "reduce" });
    const showOn = showScenes(zoomed, fixture, own);
    const found: string[] = [];
    for (const scene of shown.filter(({ name }) => low.includes(name))) {
      await showOn(scene);
      found.push(
        ...(await faultsOfLayout(zoomed, { mayShorten: false, focusToo: true })).map(
          (fault) => `${scene.name}: ${fault}`,
        ),
      );
    }
    expect(found).toEqual([]);
  } finally {
    await browser.close();
    await own.stop();
  }
});
