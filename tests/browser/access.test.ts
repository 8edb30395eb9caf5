import axe from "axe-core";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { apartOn } from "./apart-on.ts";
import { atRest, lastingFaults } from "./at-rest.ts";
import { startChromium } from "./chromium.ts";
import { type Fixture, goodDrum, goodPoint, standingAlarm, startFixtureServer } from "./fixture-server.ts";
import { groups, scenes, showScenes } from "./house/scenes.ts";
import { inState } from "./house/states.ts";

let browser: Browser;
let page: Page;
let fixture: Fixture;
let showScene: ReturnType<typeof showScenes>;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

const calm = (): Fixture => ({
  now: () => Date.now(),
  points: (nowMs) => [goodPoint(nowMs)],
  drums: (nowMs) => [goodDrum(nowMs)],
  stages: [],
  nodes: () => [],
  work: [],
  waitsFor: [],
  alarms: [],
  buckets: null,
  series: undefined,
  refuse: false,
});

beforeAll(async () => {
  fixture = calm();
  server = await startFixtureServer(fixture);
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 390, height: 844 }, reducedMotion: "reduce" });
  showScene = showScenes(page, fixture, server);
});
afterEach(() =>
  page.emulateMedia({ media: null, colorScheme: "light", forcedColors: "none", contrast: null }),
);
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

async function show(name: string, change: Partial<Fixture> = {}): Promise<void> {
  Object.assign(fixture, calm(), { answers: inState("calm").answers }, change);
  await page.goto("about:blank");
  await page.goto(`http://127.0.0.1:${server.port}/#${name}`);
  await page.locator("h1").waitFor({ state: "attached" });
}

/** Rules that are broken and stay so, each with the first place where it is; every rule unless told. */
const broken = (only?: readonly string[]) => lastingFaults(() => brokenNow(only));

async function brokenNow(only?: readonly string[]): Promise<string[]> {
  if (await page.evaluate("typeof axe === 'undefined'")) await page.evaluate(axe.source);
  const options = {
    resultTypes: ["violations"],
    ...(only ? { runOnly: { type: "rule", values: only } } : {}),
  };
  // Behind an open dialog nothing can be reached.
  const found = (await page.evaluate(
    `axe.run(document.querySelector("dialog[open]") ?? document, ${JSON.stringify(options)})`,
  )) as {
    violations: { id: string; nodes: { html: string; failureSummary: string }[] }[];
  };
  return found.violations.map(
    ({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 160)} ${nodes[0]?.failureSummary}`,
  );
}

const held = (nowMs: number) => ({
  ...goodDrum(nowMs),
  control: "manual" as const,
  missing: ["Overflow: no float, no floor sensor. Next to buy: a floor sensor."],
  water: {
    verdict: "hold" as const,
    since: new Date(nowMs - 3_600_000).toISOString(),
    reasons: ["water over the limit of 5 µS/cm came in (After resin)"],
    blend25: 7.2,
    unwatched: 0.02,
    release: null,
  },
});
const flood = () => ({
  ...standingAlarm("unacknowledged", Date.now() - 30_000),
  key: "drum-high-high:fresh",
  condition: "drum-high-high",
  subject: "fresh",
  attention: "wake" as const,
  response: "Close the supply valve now. Stay clear of wet sockets and cables.",
});
// axe-core 4.14 (MPL-2.0): rules of WCAG 2.2 A and AA, and best practices.
describe("every page, state and form keeps the rules of WCAG 2.2 AA", () => {
  // Long names, and more columns and drums, change nothing but the layout.
  it.each(groups.filter(([name]) => !["long", "nine", "apart"].includes(name)))(
    "%s, on a phone",
    async (_, some) => {
      await page.setViewportSize({ width: 390, height: 844 });
      await page.emulateMedia({ colorScheme: "light" });
      const found: string[] = [];
      for (const scene of some) {
        await showScene(scene);
        found.push(...(await broken()).map((rule) => `${scene.name}: ${rule}`));
        found.push(...(await apartOn(page)).map((words) => `${scene.name}: number and unit apart: ${words}`));
      }
      expect(found).toEqual([]);
    },
  );

  it("contrast in the dark, on a desk", async () => {
    await page.setViewportSize({ width: 1280, height: 844 });
    await page.emulateMedia({ colorScheme: "dark" });
    const found: string[] = [];
    for (const scene of scenes.filter(({ state }) => state === "trouble" || state === "flood")) {
      await showScene(scene);
      found.push(...(await broken(["color-contrast"])).map((rule) => `${scene.name}: ${rule}`));
    }
    expect(found).toEqual([]);
  });
});

describe("what is seen can be reached and heard", () => {
  const named = (name: string) => scenes.find((one) => one.name === name) as (typeof scenes)[number];

  it("on a phone the bar at the bottom never lies over what has focus", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    for (const name of ["line-trouble", "alarms-trouble", "point-calm"]) {
      await showScene(named(name));
      await atRest(page, server);
      await page.evaluate("document.activeElement?.blur(), scrollTo(0, 0)");
      const under: string[] = [];
      let reached = 0;
      for (; reached < 60; reached += 1) {
        await page.keyboard.press("Tab");
        const [words, isUnder] = await page.evaluate<[string, boolean | null]>(`(() => {
          const own = document.activeElement;
          const { left, top, width, height } = own.getBoundingClientRect();
          const there = document.elementFromPoint(left + width / 2, top + height / 2);
          const bar = document.querySelector(".nav");
          const isIn = own === document.body ? null : !own.closest(".nav, .top") && bar.contains(there);
          return [(own.getAttribute("aria-label") ?? own.textContent).trim().slice(0, 40), isIn];
        })()`);
        if (isUnder === null) break;
        if (isUnder) under.push(words);
      }
      expect([name, under]).toEqual([name, []]);
      expect(reached).toBeGreaterThan(10);
    }
  });

  it("no two acts have the same name, and every chart says what it shows", async () => {
    await showScene(named("alarms-trouble"));
    await page.locator(".stands button, .stands summary").nth(6).waitFor({ state: "attached" });
    await atRest(page, server);
    const names = await page
      .locator(".stands button, .stands summary")
      .evaluateAll((all) => all.map((one) => one.getAttribute("aria-label") ?? one.textContent ?? ""));
    expect(names.length).toBeGreaterThan(6);
    expect(names.filter((name, at) => names.indexOf(name) !== at)).toEqual([]);
    await showScene(named("trend-trouble"));
    await page.locator(".tcharts .ln").first().waitFor({ state: "attached" });
    await atRest(page, server);
    const charts = await page
      .locator(".tcharts .panel")
      .evaluateAll((all) => all.map((one) => [one.getAttribute("role"), one.getAttribute("aria-label")]));
    for (const [role, words] of charts)
      expect([role, words]).toEqual(["img", expect.stringMatching(/\d.*\d/)]);
    await showScene(named("line-trouble"));
    // Each is asked for on its own, and says its figures once they are here.
    const silent = async () =>
      (await page.locator(".spark").count()) -
      (await page.locator(".sparklink .vh", { hasText: /last 6\sh.*\d/i }).count());
    await page.locator(".spark").first().waitFor();
    await expect.poll(silent).toBe(0);
  });

  it("a fill's band never has the colour of what was measured", async () => {
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      await showScene(named("trend-trouble"));
      await page.locator(".tcharts .fill").first().waitFor({ state: "attached" });
      await page.locator(".tcharts .env").first().waitFor({ state: "attached" });
      const [band, data] = await page.evaluate<[string, string[]]>(`[
        getComputedStyle(document.querySelector(".tcharts .fill")).backgroundColor,
        [...document.querySelectorAll(".tcharts .ln, .tcharts .env")].flatMap((one) => {
          const { stroke, fill } = getComputedStyle(one);
          return [stroke, fill];
        }),
      ]`);
      expect(band).toMatch(/^(rgb|color)/);
      expect(data).not.toContain(band);
    }
  });
});

describe("in small windows", () => {
  it("at 400 % zoom of a small screen (320 × 256 px) nothing is wider, and nothing is stuck over the page", async () => {
    await page.setViewportSize({ width: 320, height: 256 });
    await page.emulateMedia({ colorScheme: "light" });
    const stuck =
      "[...document.querySelectorAll('*')].filter((e) => ['fixed', 'sticky'].includes(getComputedStyle(e).position) && !e.matches('.lbs, dialog')).length";
    for (const scene of scenes.filter(({ state, open }) => state === "long" && !open)) {
      await showScene(scene);
      await expect
        .poll(() => page.evaluate(`[document.documentElement.scrollWidth, ${stuck}]`), {
          message: scene.name,
        })
        .toEqual([320, 0]);
    }
  });

  it("the reader's own text size is followed", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await show("");
    await page.locator(".drum .word").waitFor();
    const size = () =>
      page.evaluate(
        "Number.parseFloat(getComputedStyle(document.querySelector('.drum .word')).fontSize)",
      ) as Promise<number>;
    const before = await size();
    await page.evaluate("document.documentElement.style.fontSize = '32px'");
    await expect.poll(size).toBeCloseTo(before * 2);
  });
});

describe("colours of the reader's own", () => {
  it("forced colours keep the pipe, the drum and its water; more contrast darkens what is soft", async () => {
    await page.setViewportSize({ width: 1280, height: 844 });
    await page.emulateMedia({ forcedColors: "active", colorScheme: "light" });
    await show("");
    await page.locator(".cell").first().waitFor();
    const pipe = () =>
      page.evaluate(`(() => {
        const own = getComputedStyle(document.querySelector(".cell"), "::before");
        return [own.borderTopColor, own.borderTopWidth, own.forcedColorAdjust];
      })()`);
    await expect.poll(pipe).toEqual([expect.stringMatching(/^rgb\((?!255, 255, 255)/), "2px", "none"]);
    await page.emulateMedia({ forcedColors: "none", contrast: "more" });
    const isInk = () =>
      page.evaluate(`(() => {
        const own = getComputedStyle(document.documentElement);
        return own.getPropertyValue("--ink").trim() !== "" && own.getPropertyValue("--soft").trim() === own.getPropertyValue("--ink").trim();
      })()`);
    await expect.poll(isInk).toBe(true);
  });
});

describe("on paper", () => {
  it("every alarm stands, what is folded away is open, and the ink is black in a dark house too", async () => {
    await page.emulateMedia({ colorScheme: "dark" });
    // As wide as A4 is.
    await page.setViewportSize({ width: 794, height: 1123 });
    const alarms = ["a", "b", "c", "d", "e"].map((key) => ({
      ...standingAlarm("acknowledged", Date.now() - 60_000),
      key: `resin-breakthrough:${key}`,
      subject: key,
    }));
    await show("", { alarms, drums: (nowMs) => [held(nowMs)] });
    const rows = () =>
      page
        .locator(".arow")
        .evaluateAll(
          (all) =>
            all.filter((e) => (e as unknown as { checkVisibility(): boolean }).checkVisibility()).length,
        );
    await expect.poll(rows).toBe(3);
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    await expect.poll(rows).toBe(5);
    await page.getByText("Next to buy: a floor sensor.").first().waitFor();
    await expect
      .poll(() => page.evaluate("getComputedStyle(document.documentElement).color"))
      .toBe("rgb(0, 0, 0)");
  });
});

describe("the tab", () => {
  it("says in its title and icon what stands, on which page", async () => {
    await show("");
    await expect.poll(() => page.title()).toBe("Line · Saltmarsh House");
    const icon = () => page.locator("link[rel=icon]").getAttribute("href");
    const calmIcon = await icon();
    await show("drums/fresh", { alarms: [standingAlarm("unacknowledged", Date.now() - 60_000)] });
    await expect.poll(() => page.title()).toBe("(1) Fresh drum · Saltmarsh House");
    await expect.poll(icon).not.toBe(calmIcon);
    await show("", { alarms: [flood()] });
    await expect.poll(() => page.title()).toBe("(!) Line · Saltmarsh House");
  });
});
