import axe from "axe-core";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import {
  type Fixture,
  goodDrum,
  goodPoint,
  quantity,
  standingAlarm,
  startFixtureServer,
} from "./fixture-server.ts";

// axe-core 4.14 (MPL-2.0): rules of WCAG 2.2 A and AA, and best practices.
const rules = axe.source;

let browser: Browser;
let page: Page;
let fixture: Fixture;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

const calm = (): Fixture => ({
  now: () => Date.now(),
  points: (nowMs) => [goodPoint(nowMs)],
  drums: (nowMs) => [goodDrum(nowMs)],
  alarms: [],
  buckets: null,
  refuse: false,
  answers,
});

beforeAll(async () => {
  fixture = calm();
  server = await startFixtureServer(fixture);
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 390, height: 844 } });
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

async function show(name: string, change: Partial<Fixture> = {}): Promise<void> {
  Object.assign(fixture, calm(), change);
  await page.goto("about:blank");
  await page.goto(`http://127.0.0.1:${server.port}/#${name}`);
  await page.locator("h1").waitFor({ state: "attached" });
}

/** Rules that are broken, each with the first place where it is. */
async function broken(): Promise<string[]> {
  await page.evaluate(rules);
  const found = (await page.evaluate("axe.run(document, { resultTypes: ['violations'] })")) as {
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
const place = (kind: string, id: string, role: string, channel: string | null) => ({
  place: `${kind}s/${id}/${role}`,
  of: { kind, id },
  role,
  channel,
});
/** A line that is half drawn: a channel waits for its place. */
const drawn = {
  version: "1",
  yaml: "drumlin: 1\n",
  warnings: [{ line: 4, message: "The limit is high.", instead: "Write 5." }],
  title: "Saltmarsh House",
  disinfectant: "unknown",
  points: [
    { id: "supply", title: "Supply", limit: null },
    { id: "after-resin", title: "After resin", limit: 5 },
  ],
  stages: [
    {
      id: "resin",
      title: "Resin",
      kind: "resin",
      from: "supply",
      to: "after-resin",
      vessel: 8,
      typical: false,
    },
  ],
  drums: [
    {
      id: "fresh",
      title: "Fresh drum",
      fedBy: "after-resin",
      volume: 200,
      control: "automatic",
      holds: "fresh",
    },
  ],
  places: [
    place("point", "supply", "conductivity", "press/ec-1"),
    place("point", "after-resin", "conductivity", null),
    place("drum", "fresh", "stop", null),
    place("floor", "floor", "floor", null),
  ],
  heard: [
    {
      channel: "press/ec-2",
      value: 0.0001,
      unit: "S/m",
      at: new Date().toISOString(),
      fits: ["points/after-resin/conductivity", "points/supply/conductivity"],
    },
  ],
  mqtt: { port: 1883, tls: false, broker: null },
};
const pictures = {
  items: [
    { id: "one", title: "One drum", words: "Tap water.", stages: drawn.stages, drums: drawn.drums, yaml: "" },
  ],
};
const answers = new Map<string, unknown>([
  ["/api/line/drawing", drawn],
  ["/api/line/pictures", pictures],
]);
const steps = ["draw/picture", "draw/parts", "draw/nodes", "draw/places", "draw/file"];
const pages = [
  "draw/parts",
  "",
  "alarms",
  "trend",
  "nodes",
  "more",
  "wall",
  "points/after-resin",
  "drums/fresh",
];

describe("every page keeps the rules of WCAG 2.2 AA", { timeout: 90_000 }, () => {
  const looks = [
    { width: 390, colorScheme: "light" },
    { width: 1280, colorScheme: "dark" },
  ] as const;
  for (const { width, colorScheme } of looks)
    it(`calm, ${width} px, ${colorScheme}`, async () => {
      await page.setViewportSize({ width, height: 844 });
      await page.emulateMedia({ colorScheme });
      const all: string[] = [];
      for (const name of pages) {
        await show(name);
        all.push(...(await broken()).map((rule) => `${name}: ${rule}`));
      }
      expect(all).toEqual([]);
    });

  it("flood, held water, old readings, and a line of which nothing was heard", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    const states: Partial<Fixture>[] = [
      {
        alarms: [flood(), standingAlarm("acknowledged", Date.now() - 60_000)],
        drums: (nowMs) => [held(nowMs)],
      },
      {
        points: (nowMs) => [goodPoint(nowMs - 600_000)],
        drums: (nowMs) => [{ ...held(nowMs), volume: quantity(138, "L", nowMs - 600_000) }],
      },
      { points: () => [], drums: () => [] },
      { waitsFor: [{ node: "press", channels: ["ec-1", "t-1"] }] },
    ];
    for (const state of states)
      for (const name of ["", "drums/fresh"]) {
        await show(name, state);
        expect(await broken(), name).toEqual([]);
      }
  });

  it("each step of the drawing", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    for (const name of steps) {
      await show(name);
      await page.locator(".draw-step").waitFor();
      expect(await broken(), name).toEqual([]);
    }
  });

  it("the drawing with a part chosen, a channel in the hand, and a place that is taken", async () => {
    await show("draw/parts");
    for (const name of [/^Supply/, /^Resin/, /^After resin/, /^Fresh drum/]) {
      await page.locator(".drawn").getByRole("button", { name }).click();
      expect(await broken(), String(name)).toEqual([]);
    }
    await show("draw/places");
    await page.getByRole("button", { name: /press\/ec-2/ }).click();
    expect(await broken()).toEqual([]);
    await page
      .locator(".slots")
      .getByRole("button", { name: /press\/ec-1/ })
      .click();
    await page.getByText("press/ec-2 takes its place").waitFor();
    expect(await broken()).toEqual([]);
  });

  it("forms that are open: release, silence, switch off, what a drum offers", async () => {
    await show("", {
      drums: (nowMs) => [held(nowMs)],
      alarms: [standingAlarm("acknowledged", Date.now() - 60_000)],
    });
    await page.getByRole("button", { name: "what you can do" }).click();
    expect(await broken()).toEqual([]);
    await page.getByRole("button", { name: "Release this water…" }).click();
    await page.getByRole("button", { name: "I tested it" }).click();
    expect(await broken()).toEqual([]);
    await page.keyboard.press("Escape");
    await page.getByRole("dialog").waitFor({ state: "detached" });
    await page.locator(".nav").getByRole("link", { name: "Alarms" }).click();
    for (const name of ["Silence…", "Switch off…"]) await page.getByText(name).click();
    expect(await broken()).toEqual([]);
  });
});

describe("in small windows", { timeout: 90_000 }, () => {
  it("titles of 40 characters overflow nowhere at 320 px, nor at 400 % zoom of a small screen", async () => {
    const title = "Quarantine and killifish raising, drum B";
    const long: Partial<Fixture> = {
      points: (nowMs) => [{ ...goodPoint(nowMs), title }],
      drums: (nowMs) => [{ ...held(nowMs), title }],
      alarms: [standingAlarm("unacknowledged", Date.now() - 60_000), flood()],
    };
    for (const height of [700, 256])
      for (const name of pages) {
        await page.setViewportSize({ width: 320, height });
        await show(name, long);
        expect(
          await page.evaluate("document.documentElement.scrollWidth"),
          `${name} ${height}`,
        ).toBeLessThanOrEqual(320);
      }
    // At 400 % zoom nothing is stuck over the page.
    const stuck = await page.evaluate(
      "[...document.querySelectorAll('*')].filter((e) => ['fixed', 'sticky'].includes(getComputedStyle(e).position)).length",
    );
    expect(stuck).toBe(0);
  });

  it("the reader's own text size is followed", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await show("");
    const size = () =>
      page.evaluate(
        "Number.parseFloat(getComputedStyle(document.querySelector('.drum .word')).fontSize)",
      ) as Promise<number>;
    const before = await size();
    await page.evaluate("document.documentElement.style.fontSize = '32px'");
    expect(await size()).toBeCloseTo(before * 2);
  });

  it("what has focus is not under the bottom bar", async () => {
    await show("", { alarms: [standingAlarm("unacknowledged", Date.now() - 60_000)] });
    await page.setViewportSize({ width: 390, height: 500 });
    for (let times = 0; times < 30; times += 1) {
      await page.keyboard.press("Tab");
      const hidden = await page.evaluate(`(() => {
        const own = document.activeElement, nav = document.querySelector('.nav');
        if (!own || own === document.body || nav.contains(own)) return false;
        const box = own.getBoundingClientRect();
        return box.height > 0 && box.top >= nav.getBoundingClientRect().top;
      })()`);
      expect(hidden).toBe(false);
    }
  });
});

describe("colours of the reader's own", () => {
  it("forced colours keep the pipe, the drum and its water; more contrast darkens what is soft", async () => {
    await page.setViewportSize({ width: 1280, height: 844 });
    await page.emulateMedia({ forcedColors: "active", colorScheme: "light" });
    await show("");
    const pipe = await page.evaluate(`(() => {
      const own = getComputedStyle(document.querySelector(".cell"), "::before");
      return [own.borderTopColor, own.borderTopWidth, own.forcedColorAdjust];
    })()`);
    expect(pipe).toEqual([expect.stringMatching(/^rgb\((?!255, 255, 255)/), "2px", "none"]);
    await page.emulateMedia({ forcedColors: "none", contrast: "more" });
    const soft = await page.evaluate(
      "getComputedStyle(document.documentElement).getPropertyValue('--soft').trim()",
    );
    expect(soft).toBe(
      await page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--ink').trim()"),
    );
    await page.emulateMedia({ contrast: null });
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
    expect(await rows()).toBe(5);
    expect(await page.getByText("Next to buy: a floor sensor.").first().isVisible()).toBe(true);
    expect(await page.evaluate("getComputedStyle(document.documentElement).color")).toBe("rgb(0, 0, 0)");
    await page.emulateMedia({ media: null, colorScheme: "light" });
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
    expect(await icon()).not.toBe(calmIcon);
    await show("", { alarms: [flood()] });
    await expect.poll(() => page.title()).toBe("(!) Line · Saltmarsh House");
  });
});
