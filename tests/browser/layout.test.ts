import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { startFixtureServer } from "./fixture-server.ts";
import { faultsOfLayout } from "./geometry.ts";
import { groups, scenes, showScenes } from "./house/scenes.ts";
import { inState } from "./house/states.ts";

let browser: Browser;
let page: Page;
let show: ReturnType<typeof showScenes>;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

beforeAll(async () => {
  const fixture = inState("calm");
  server = await startFixtureServer(fixture);
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 1280, height: 844 }, reducedMotion: "reduce" });
  page.setDefaultTimeout(20_000);
  show = showScenes(page, fixture, server);
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

const widths = [1280, 820, 390, 320] as const;

describe("on every page, at 1280, 820, 390 and 320 px, nothing is wider, cut, hidden or on something else", {
  timeout: 60_000,
}, () => {
  it.each(groups)("%s", async (state, some) => {
    const found: string[] = [];
    for (const scene of some) {
      await page.setViewportSize({ width: 1280, height: 844 });
      await show(scene);
      for (const width of widths) {
        await page.setViewportSize({ width, height: 844 });
        const faults = await faultsOfLayout(page, { mayShorten: state === "long", focusToo: width === 390 });
        found.push(...faults.map((fault) => `${scene.name} ${width}: ${fault}`));
      }
    }
    expect(found).toEqual([]);
  });
});

it("three drums leave the line on a phone's first screen", async () => {
  await page.setViewportSize({ width: 390, height: 844 });
  const scene = scenes.find(({ name }) => name === "line-calm");
  if (!scene) throw new Error("no such scene");
  await show(scene);
  const topOf = async (what: string) => (await page.locator(what).first().boundingBox())?.y ?? 0;
  expect(await page.locator(".drum").count()).toBe(3);
  // Down to the point that is judged.
  expect(await topOf(".cell[data-point=after-resin]")).toBeLessThan((await topOf(".nav")) - 40);
});
