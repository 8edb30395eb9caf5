import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, standingAlarm, startFixtureServer } from "./fixture-server.ts";
import { inState } from "./house/states.ts";
import { raiseAlarm } from "./raise-alarm.ts";

let browser: Browser;
let context: BrowserContext;
let fixture: Fixture;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

/** What the device is made to do: each tone with its height, and how many locks keep the screen on. */
const spies = `
  globalThis.tones = [];
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...at) {
    tones.push(this.frequency.value);
    return start.apply(this, at);
  };
  globalThis.locks = 0;
  WakeLock.prototype.request = async () => {
    let isHeld = true;
    locks += 1;
    return { release: async () => { if (isHeld) locks -= 1; isHeld = false; } };
  };
  // Half a minute of these tabs passes when the test says so, and never by itself.
  const [every, end] = [setInterval, clearInterval];
  const halfMinutes = new Map();
  globalThis.setInterval = (run, ms, ...more) => {
    const id = every(ms === 30_000 ? () => {} : run, ms, ...more);
    if (ms === 30_000) halfMinutes.set(id, run);
    return id;
  };
  globalThis.clearInterval = (id) => {
    halfMinutes.delete(id);
    end(id);
  };
  globalThis.passHalfMinute = () => {
    for (const run of halfMinutes.values()) run();
  };
  globalThis.hide = (isHidden) => {
    Object.defineProperty(document, "hidden", { configurable: true, get: () => isHidden });
    document.dispatchEvent(new Event("visibilitychange"));
  };`;

beforeAll(async () => {
  fixture = inState("calm");
  server = await startFixtureServer(fixture);
  browser = await startChromium();
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});
beforeEach(async () => {
  Object.assign(fixture, inState("calm"));
  context = await browser.newContext({ locale: "en-GB", viewport: { width: 390, height: 844 } });
  await context.addInitScript(spies);
});
afterEach(() => context.close());

async function open(hash = ""): Promise<Page> {
  const page = await context.newPage();
  await page.goto(`http://127.0.0.1:${server.port}/#${hash}`);
  await page.locator("footer, .board").first().waitFor();
  return page;
}
const tones = (page: Page) => page.evaluate<number[]>("tones");
const locks = (page: Page) => page.evaluate<number>("locks");
const passHalfMinute = (page: Page) => page.evaluate("passHalfMinute()");
const hide = (page: Page, isHidden: boolean) => page.evaluate(`hide(${isHidden})`);
const sound = (page: Page, is: "on" | "off" | "tap once") =>
  page.getByRole("button", { name: `Alarm sound: ${is}` });

/** Raises an alarm on every open page. */
function raise(attention: "wake" | "tell", subject = "fresh"): void {
  const condition = attention === "wake" ? "drum-high-high" : "resin-breakthrough";
  const key = `${condition}:${subject}`;
  const alarm = {
    ...standingAlarm("unacknowledged", Date.now()),
    ...{ key, condition, subject, attention },
  };
  raiseAlarm(fixture, server, alarm);
}

describe("the sound of this device", () => {
  it("is off until it is turned on; then it is heard at once, and the screen stays on until it is off again", async () => {
    const page = await open();
    raise("tell", "mix");
    await page
      .getByRole("heading", { name: /^Mix drum/ })
      .first()
      .waitFor();
    expect([await tones(page), await locks(page)]).toEqual([[], 0]);
    await sound(page, "off").click();
    await expect.poll(() => tones(page)).toContain(880);
    await expect.poll(() => locks(page)).toBe(1);
    await sound(page, "on").click();
    await sound(page, "off").waitFor();
    await expect.poll(() => locks(page)).toBe(0);
  });

  it("two tones for act soon, three for act now, again while nobody has seen them, and none after", async () => {
    const page = await open();
    await sound(page, "off").click();
    await expect.poll(() => tones(page)).toEqual([880]);
    raise("tell");
    await expect.poll(async () => (await tones(page)).length).toBe(3);
    raise("wake");
    await expect.poll(async () => (await tones(page)).length).toBe(6);
    await passHalfMinute(page);
    await expect.poll(async () => (await tones(page)).length).toBe(9);
    fixture.alarms = fixture.alarms.map((alarm) => ({ ...alarm, state: "acknowledged" }));
    await page.getByRole("button", { name: /^I've seen it/ }).click();
    await page.locator(".crit").waitFor({ state: "detached" });
    const before = await tones(page);
    await passHalfMinute(page);
    expect(await tones(page)).toEqual(before);
  });

  it("stays on over pages, a reload and a new window, which says where it wants one tap first", async () => {
    const page = await open();
    await sound(page, "off").click();
    await sound(page, "on").waitFor();
    for (const name of ["Trend", "Alarms"]) {
      await page.locator(".nav").getByRole("link", { name }).click();
      await page.getByRole("heading", { name, level: 1 }).waitFor();
      await sound(page, "on").waitFor();
    }
    await page.reload();
    await page.getByRole("button", { name: /^Alarm sound: (on|tap once)/ }).waitFor();
    await expect.poll(() => locks(page)).toBe(1);
    const other = await open();
    await other.getByRole("button", { name: /^Alarm sound: (on|tap once)/ }).waitFor();
    await other.locator("h1").first().click({ force: true });
    await sound(other, "on").waitFor();
    raise("tell");
    await expect.poll(() => tones(other)).toEqual([880, 880]);
  });

  it("a hidden tab keeps it, and its stream: an alarm is heard there; the screen's lock comes back with the tab", async () => {
    const page = await open();
    await sound(page, "off").click();
    await expect.poll(() => tones(page)).toEqual([880]);
    await hide(page, true);
    await expect.poll(() => locks(page)).toBe(0);
    await passHalfMinute(page);
    await expect.poll(() => server.streams()).toBe(1);
    raise("wake");
    await expect.poll(async () => (await tones(page)).length).toBeGreaterThanOrEqual(4);
    await hide(page, false);
    await expect.poll(() => locks(page)).toBe(1);
    await sound(page, "on").waitFor();
  });

  it("has tones of its own, low ones, while the gateway is lost", async () => {
    const page = await open();
    await sound(page, "off").click();
    await expect.poll(() => tones(page)).toEqual([880]);
    fixture.refuse = true;
    server.cut();
    await page.getByText("No contact with the gateway since").waitFor();
    await expect.poll(() => tones(page)).toEqual(expect.arrayContaining([440, 440]));
    fixture.refuse = false;
    await page.locator("main:not(.old)").waitFor();
    const before = (await tones(page)).length;
    await passHalfMinute(page);
    expect((await tones(page)).length).toBe(before);
  });

  it("is tried by a button, which says what came of it and what no sound of a page can do", async () => {
    const page = await open("alarms");
    await page.getByRole("button", { name: "Test the sound" }).click();
    await page.getByText("One tone now. Heard nothing? Turn this device up.").waitFor();
    await expect.poll(() => tones(page)).toEqual([880]);
    await page.getByText("A device that sleeps or is muted calls nobody.").waitFor();
    // A test turns nothing on.
    await sound(page, "off").waitFor();
  });
});

describe("a tab that nobody looks at, without sound", () => {
  it("holds no stream, and its title still tells what stands, from a question now and then", async () => {
    const page = await open();
    await hide(page, true);
    await expect.poll(() => server.streams()).toBe(0);
    raise("wake");
    const title = async () => {
      await passHalfMinute(page);
      return page.title();
    };
    await expect.poll(title).toBe("(!) Line · Saltmarsh House");
    fixture.alarms = [];
    await expect.poll(title).toBe("Line · Saltmarsh House");
    await hide(page, false);
    await expect.poll(() => server.streams()).toBe(1);
    await page.locator("main:not(.old)").waitFor();
  });
});

describe("the wall", () => {
  it("fills the screen at a tap, keeps it on while it is shown, and can be read from 3 m", async () => {
    const page = await open("wall");
    await page.setViewportSize({ width: 1280, height: 800 });
    await expect.poll(() => locks(page)).toBe(1);
    await page.getByRole("button", { name: "Full screen" }).click();
    await expect
      .poll(() => page.evaluate("document.fullscreenElement === document.documentElement"))
      .toBe(true);
    await page.evaluate("document.exitFullscreen()");
    await expect.poll(() => page.evaluate("document.fullscreenElement")).toBe(null);
    expect(await page.locator(".nav").count()).toBe(0);
    // A wall tablet is some 135 mm high: at 13 % of it the word is 17 mm, ISO 9241-303 asks for 16' of arc, 14 mm at 3 m.
    const share = () =>
      page.evaluate<number>(
        "Number.parseFloat(getComputedStyle(document.querySelector('.board .dw')).fontSize) / innerHeight",
      );
    await expect.poll(share).toBeGreaterThanOrEqual(0.125);
    await page.locator(".board h1").click();
    await page.locator(".drum").first().waitFor();
    await expect.poll(() => locks(page)).toBe(0);
  });
});
