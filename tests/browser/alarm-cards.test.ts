import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, standingAlarm, type startFixtureServer } from "./fixture-server.ts";
import { phonePage } from "./phone-page.ts";
import { raiseAlarm } from "./raise-alarm.ts";

let browser: Browser;
let page: Page;
let fixture: Fixture;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

beforeAll(async () => {
  browser = await startChromium();
});
afterAll(() => browser?.close());

beforeEach(async () => {
  ({ fixture, server, page } = await phonePage(browser));
});
afterEach(async () => {
  await page.close();
  await server.stop();
});

const openAlarms = () => page.goto(`http://127.0.0.1:${server.port}/#alarms`);

describe("alarms call only while they are new", () => {
  it("new, ended and held ones ask to be seen and stand first, only the new one loudly; seen, silent, paused and switched-off ones are quiet", async () => {
    const states = {
      acknowledged: 0,
      unacknowledged: 1,
      shelved: 0,
      "returned-unacknowledged": 1,
      "suppressed-by-design": 0,
      "latched-unacknowledged": 1,
      "out-of-service": 0,
    } as const;
    const names = Object.keys(states) as (keyof typeof states)[];
    // Raised in one millisecond: the newest stands first.
    const raisedMs = Date.now() - 60_000;
    fixture.alarms = names.map((state) => ({
      ...standingAlarm(state, raisedMs),
      key: `resin-breakthrough:${state}`,
      subject: state,
    }));
    await openAlarms();
    await page
      .locator(".acard")
      .nth(names.length - 1)
      .waitFor();
    for (const state of names) {
      const card = page.locator(".acard", { has: page.getByRole("heading", { name: state, exact: false }) });
      const own = card.filter({ has: page.getByRole("heading", { name: new RegExp(`^${state}:`) }) });
      expect([state, await own.getByRole("button", { name: "Mark as seen" }).count()]).toEqual([
        state,
        states[state],
      ]);
    }
    const loud = await page.locator(".acard").evaluateAll((cards) => cards.map(({ className }) => className));
    // What has ended waits to be seen without shouting.
    expect(loud.map((name) => name.includes("seen"))).toEqual([false, true, true, true, true, true, true]);
  });

  it("a new one does not move the cards under the thumb: it waits below, is told of, and goes to its place when asked", async () => {
    const today = { attention: "today" as const, priority: "medium" as const };
    fixture.alarms = [
      standingAlarm("unacknowledged", Date.now() - 60_000),
      { ...standingAlarm("acknowledged", Date.now()), ...today, key: "a:fresh", subject: "fresh" },
    ];
    await page.setViewportSize({ width: 320, height: 844 });
    await openAlarms();
    const cards = page.locator(".acard");
    const keys = () => cards.evaluateAll((all) => all.map((card) => card.getAttribute("data-alarm")));
    const thumb = cards.nth(1);
    await thumb.hover();
    const before = await thumb.boundingBox();
    const next = { ...standingAlarm("unacknowledged", Date.now()), key: "b:fresh", subject: "fresh" };
    raiseAlarm(fixture, server, next);
    await cards.nth(2).waitFor();
    const told = page.getByRole("button", { name: "1 new alarm below" });
    await told.waitFor();
    expect(await thumb.boundingBox()).toEqual(before);
    expect(await keys()).toEqual(["resin-breakthrough:after-resin", "a:fresh", "b:fresh"]);
    // Not by itself, as long as a finger or focus is there.
    await page.getByRole("button", { name: "Mark as seen" }).first().focus();
    await told.click();
    await expect.poll(keys).toEqual(["b:fresh", "resin-breakthrough:after-resin", "a:fresh"]);
    expect(await told.count()).toBe(0);
    expect(await page.evaluate("document.activeElement?.closest('[data-alarm]')?.dataset.alarm")).toBe(
      "b:fresh",
    );
  });

  it("what is held until somebody resets it is reset in two taps, with what that means between them", async () => {
    fixture.alarms = [standingAlarm("latched-acknowledged", Date.now() - 60_000)];
    await openAlarms();
    const card = page.locator(".acard");
    await card.locator("summary", { hasText: "Reset…" }).click();
    await card.getByText("A reset can't be taken back.").waitFor();
    expect(server.asked.some((line) => line.endsWith("/reset"))).toBe(false);
    await card.getByRole("button", { name: /^Reset: After resin/ }).click();
    await expect.poll(() => server.asked.some((line) => /^POST .*\/reset$/.test(line))).toBe(true);
  });

  it("a silent alarm can be brought back", async () => {
    fixture.alarms = [standingAlarm("shelved", Date.now() - 60_000)];
    await openAlarms();
    await page.getByRole("button", { name: "End the silence" }).click({ timeout: 15_000 });
    await expect.poll(() => server.asked.some((line) => /^POST .*\/unshelve$/.test(line))).toBe(true);
  });
});
