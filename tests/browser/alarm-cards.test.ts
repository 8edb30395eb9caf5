import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { atRest } from "./at-rest.ts";
import { startChromium } from "./chromium.ts";
import {
  type Fixture,
  goodDrum,
  goodPoint,
  standingAlarm,
  type startFixtureServer,
} from "./fixture-server.ts";
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
  await page?.close();
  await server?.stop();
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
      await expect
        .poll(() => own.getByRole("button", { name: "Mark as seen" }).count(), { message: state })
        .toBe(states[state]);
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
    // What comes late above the cards would move them too.
    await thumb.waitFor();
    await atRest(page, server);
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
    await expect.poll(() => told.count()).toBe(0);
    await expect
      .poll(() => page.evaluate("document.activeElement?.closest('[data-alarm]')?.dataset.alarm"))
      .toBe("b:fresh");
  });

  it("what is held until somebody resets it is reset in two taps, with what that means between them", async () => {
    const clearedAt = new Date(Date.now() - 30_000).toISOString();
    fixture.alarms = [{ ...standingAlarm("latched-acknowledged", Date.now() - 60_000), clearedAt }];
    await openAlarms();
    const card = page.locator(".acard");
    await card.getByText("What is left to do", { exact: true }).waitFor();
    await card.locator("summary", { hasText: "Reset…" }).click();
    await card.getByText("A reset can't be undone.").waitFor();
    expect(server.asked.some((line) => line.endsWith("/reset"))).toBe(false);
    await card.getByRole("button", { name: /^Reset: After resin/ }).click();
    await expect.poll(() => server.asked.some((line) => /^POST .*\/reset$/.test(line))).toBe(true);
  });

  it("that it was seen can be taken back for 10 min, on its card and on its row; of what goes with being seen it is said before that it can't", async () => {
    const seen = (agoMs: number, id: string) => ({
      ...standingAlarm("acknowledged", Date.now() - 60_000),
      acknowledgedAt: new Date(Date.now() - agoMs).toISOString(),
      key: `resin-breakthrough:${id}`,
      subject: id,
    });
    fixture.alarms = [seen(9 * 60_000, "late"), seen(11 * 60_000, "too-late")];
    await openAlarms();
    const undo = page.getByRole("button", { name: /^Undo “seen”: late/ });
    await undo.waitFor();
    await expect.poll(() => page.getByRole("button", { name: /^Undo “seen”/ }).count()).toBe(1);
    await page.goto(`http://127.0.0.1:${server.port}/#`);
    await page.setViewportSize({ width: 820, height: 844 });
    await undo.click();
    await expect
      .poll(() => server.asked.some((line) => /^POST .*late\/unacknowledge$/.test(line)))
      .toBe(true);
    fixture.alarms = [standingAlarm("returned-unacknowledged", Date.now() - 60_000)];
    await openAlarms();
    await page.reload();
    await page
      .locator(".acard")
      .getByText("Once it has ended, “seen” moves it to the log, and that can't be undone.")
      .waitFor();
  });

  it("a silent alarm can be brought back", async () => {
    fixture.alarms = [standingAlarm("shelved", Date.now() - 60_000)];
    await openAlarms();
    await page.getByRole("button", { name: "End the silence" }).click();
    await expect.poll(() => server.asked.some((line) => /^POST .*\/unshelve$/.test(line))).toBe(true);
  });
});

describe("whoever hears the page is told once", () => {
  it("of each new alarm, together where they come together; of a drum's new word; never of a value", async () => {
    fixture.alarms = [standingAlarm("unacknowledged", Date.now() - 60_000)];
    await openAlarms();
    await page.locator(".acard").waitFor();
    await page.evaluate(`
      globalThis.said = [];
      for (const region of document.querySelectorAll("[aria-live]"))
        new MutationObserver(() => said.push([region.getAttribute("aria-live"), region.textContent.trim()]))
          .observe(region, { childList: true, characterData: true, subtree: true });`);
    const said = () => page.evaluate<string[][]>("said");
    const high = {
      ...standingAlarm("unacknowledged", Date.now()),
      attention: "wake" as const,
      subject: "fresh",
    };
    const drum = (verdict: "use" | "hold") => {
      const good = goodDrum(Date.now());
      server.tell({ event: "drum", data: { ...good, water: { ...good.water, verdict } } });
    };
    raiseAlarm(fixture, server, { ...high, key: "drum-high-high:fresh", condition: "drum-high-high" });
    raiseAlarm(fixture, server, { ...high, key: "floor-wet:hall", condition: "floor-wet", subject: "hall" });
    drum("hold");
    await expect.poll(async () => (await said()).some(([how]) => how === "polite")).toBe(true);
    // Values, and the same alarm with another number, are no news.
    const worse = fixture.alarms.find(({ key }) => key === "floor-wet:hall");
    if (worse) raiseAlarm(fixture, server, { ...worse, value: 9 });
    server.tell({ event: "point", data: { ...goodPoint(Date.now()), title: "Behind the resin" } });
    await page.getByRole("heading", { name: "Behind the resin: letting salts through" }).waitFor();
    const heard = async (how: string) =>
      (await said()).flatMap(([own, words]) => (own === how ? [words] : []));
    const urgent = (await heard("assertive")).join(" ");
    expect(urgent.match(/Fresh drum: over its highest level/g)).toHaveLength(1);
    expect(urgent.match(/hall: wet/gi)).toHaveLength(1);
    expect(await heard("polite")).toEqual(["Fresh drum: hold"]);
    drum("use");
    await expect.poll(() => heard("polite")).toEqual(["Fresh drum: hold", "Fresh drum: use"]);
    // Contact that is lost twice is told twice.
    for (const times of [1, 2]) {
      fixture.refuse = true;
      server.cut();
      const lost = async () =>
        (await heard("assertive")).filter((words) => words === "No contact with the gateway.");
      await expect.poll(async () => (await lost()).length).toBe(times);
      fixture.refuse = false;
      const back = async () =>
        (await heard("polite")).filter((words) => /Contact .* is back/.test(words ?? ""));
      await expect.poll(async () => (await back()).length).toBe(times);
    }
  });
});
