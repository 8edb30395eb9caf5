import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import {
  type Fixture,
  goodDrum,
  goodPoint,
  quantity,
  standingAlarm,
  startFixtureServer,
} from "./fixture-server.ts";

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
  };
  server = await startFixtureServer(fixture);
  page = await browser.newPage({ viewport: { width: 390, height: 844 } });
});
afterEach(async () => {
  await page.close();
  await server.stop();
});

const open = () => page.goto(`http://127.0.0.1:${server.port}/`);

describe("a good state is shown only from a fresh, judged reading", () => {
  it("a good mark and the word use go when the gateway is lost, and come back with it", async () => {
    await open();
    await page.locator(".mark.good").waitFor();
    await page.locator(".drum.use").waitFor();
    fixture.refuse = true;
    server.cut();
    await page.getByText("no word from the gateway").waitFor();
    expect(await page.locator(".mark.good").count()).toBe(0);
    expect(await page.locator(".drum.use").count()).toBe(0);
    // A refused stream is not tried again by the browser: the page must.
    fixture.refuse = false;
    await page.locator(".mark.good").waitFor({ timeout: 8000 });
    await page.locator(".drum.use").waitFor();
  }, 20_000);

  it("a held drum stays held when the gateway is lost", async () => {
    fixture.drums = (nowMs) => [
      {
        ...goodDrum(nowMs),
        water: { verdict: "hold", since: null, reasons: ["over its limit"], blend25: null, unwatched: 0 },
      },
    ];
    await open();
    await page.locator(".drum.hold").waitFor();
    fixture.refuse = true;
    server.cut();
    await page.getByText("no word from the gateway").waitFor();
    expect(await page.locator(".drum.hold").count()).toBe(1);
  });

  it("an old level is a question mark with its age, not a level", async () => {
    fixture.drums = (nowMs) => [{ ...goodDrum(nowMs), volume: quantity(138, "L", nowMs - 600_000) }];
    await open();
    await page.locator(".vessel .wall.unknown").waitFor({ timeout: 4000 });
    expect(await page.locator(".vessel").textContent()).not.toContain("138");
    await page.getByText("level last heard 10 min ago").waitFor();
  });

  it("first water over the limit is not drawn as over: the pointer has no alarm colour", async () => {
    fixture.points = (nowMs) => [
      {
        ...goodPoint(nowMs),
        conductivity25: quantity(17.9, "uS/cm", nowMs),
        judged: { now: false, because: "settling" },
      },
    ];
    await open();
    await page.locator(".pointer").waitFor();
    expect(await page.locator(".pointer.over").count()).toBe(0);
  });

  it("ages and the chart go by the gateway's clock, not the tablet's", async () => {
    const aheadMs = 30 * 86_400_000;
    fixture.now = () => Date.now() + aheadMs;
    await open();
    await page.getByText("stop float dry, for 1 h 12 min").waitFor({ timeout: 4000 });
    await expect.poll(() => server.asked.find((line) => line.includes("/series")) ?? "").toContain("from=");
    const from = Number(/from=(\d+)/.exec(server.asked.find((line) => line.includes("/series")) ?? "")?.[1]);
    expect(Math.abs(from - (Date.now() + aheadMs - 6 * 3_600_000))).toBeLessThan(60_000);
  });
});

describe("alarms call only while they are new", () => {
  it("new, over and held ones flash and ask to be seen; seen, silent, suppressed and out-of-service ones do not", async () => {
    const states = {
      unacknowledged: 1,
      "returned-unacknowledged": 1,
      "latched-unacknowledged": 1,
      acknowledged: 0,
      shelved: 0,
      "suppressed-by-design": 0,
      "out-of-service": 0,
    } as const;
    const names = Object.keys(states) as (keyof typeof states)[];
    fixture.alarms = names.map((state) => ({
      ...standingAlarm(state, Date.now() - 60_000),
      key: `resin-breakthrough:${state}`,
      subject: state,
    }));
    await open();
    await page
      .locator(".stand")
      .nth(names.length - 1)
      .waitFor();
    for (const [index, state] of names.entries()) {
      const card = page.locator(".stand").nth(index);
      expect([state, await card.locator(".shape.unseen").count()]).toEqual([state, states[state]]);
      expect([state, await card.getByRole("button", { name: "Seen" }).count()]).toEqual([
        state,
        states[state],
      ]);
    }
  });

  it("a silent alarm can be brought back", async () => {
    fixture.alarms = [standingAlarm("shelved", Date.now() - 60_000)];
    await open();
    await page.getByRole("button", { name: "Bring back" }).click({ timeout: 4000 });
    await expect.poll(() => server.asked.some((line) => /^POST .*\/unshelve$/.test(line))).toBe(true);
  });
});

describe("the chart", () => {
  it("draws a lone reading between gaps", async () => {
    const nowMs = Math.floor(Date.now() / 90_000) * 90_000;
    const t = Array.from({ length: 240 }, (_, index) => nowMs - (239 - index) * 90_000);
    const lone = t.map((_, index) => (index % 4 === 0 ? 3 : null));
    fixture.buckets = {
      unit: "uS/cm",
      bucketMs: 90_000,
      t,
      min: lone,
      mean: lone,
      max: lone,
      count: lone.map((value) => (value === null ? 0 : 1)),
      flag: lone.map((value) => (value === null ? 9 : 1)),
    };
    fixture.points = (at) => [{ ...goodPoint(at), limit: null }];
    await open();
    await page.locator(".chart canvas").waitFor();
    await expect
      .poll(
        () =>
          page.evaluate(`(() => {
            const canvas = document.querySelector(".chart canvas");
            const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
            let dark = 0;
            for (let i = 0; i < data.length; i += 4)
              if (data[i + 3] > 200 && data[i] < 60 && data[i + 1] < 60) dark += 1;
            return dark;
          })()`),
        { timeout: 4000 },
      )
      .toBeGreaterThan(60);
  });
});

describe("by keyboard", () => {
  it("moving to and through the silences silences nothing; choosing one does", async () => {
    fixture.alarms = [standingAlarm("unacknowledged", Date.now() - 60_000)];
    await open();
    await page.getByRole("button", { name: "Seen" }).focus();
    for (const key of ["Tab", "ArrowDown", "ArrowDown", "Enter", "Tab"]) await page.keyboard.press(key);
    // What the page asked before this has been counted when this is answered.
    await page.evaluate("fetch('/api/line').then((answer) => answer.status)");
    const shelved = () => server.asked.filter((line) => /^POST .*\/shelve$/.test(line)).length;
    expect(shelved()).toBe(0);
    await page.getByRole("button", { name: "2 h", exact: true }).click({ timeout: 4000 });
    await expect.poll(shelved).toBe(1);
  });
});
