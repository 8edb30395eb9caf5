import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, standingAlarm, startFixtureServer } from "./fixture-server.ts";
import { inState } from "./house/states.ts";

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
  // Half a minute of these tabs passes in half a second.
  const every = setInterval;
  globalThis.setInterval = (run, ms, ...more) => every(run, ms === 30_000 ? 500 : ms, ...more);
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
  page.setDefaultTimeout(10_000);
  await page.goto(`http://127.0.0.1:${server.port}/#${hash}`);
  await page.locator("footer, .board").first().waitFor();
  return page;
}
const tones = (page: Page) => page.evaluate<number[]>("tones");
const locks = (page: Page) => page.evaluate<number>("locks");
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
  fixture.alarms = [...fixture.alarms, alarm];
  server.tell({
    event: "alarm",
    data: {
      id: `1/${key}/1`,
      at: new Date().toISOString(),
      from: "normal",
      to: "unacknowledged",
      why: "raised",
      by: null,
      annunciated: true,
      alarm,
    },
  });
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
    expect(await locks(page)).toBe(1);
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
    await expect.poll(async () => (await tones(page)).length).toBe(9);
    fixture.alarms = fixture.alarms.map((alarm) => ({ ...alarm, state: "acknowledged" }));
    await page.getByRole("button", { name: /^I've seen it/ }).click();
    await page.locator(".crit").waitFor({ state: "detached" });
    const before = await tones(page);
    await page.waitForTimeout(1200);
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
    expect(await locks(page)).toBe(1);
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
    expect(server.streams()).toBe(1);
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
    await page.waitForTimeout(1200);
    expect((await tones(page)).length).toBe(before);
  });

  it("is tried by a button, which says what came of it and what no sound of a page can do", async () => {
    const page = await open("alarms");
    await page.getByRole("button", { name: "Test the sound" }).click();
    await page.getByText("One tone now. Not heard? Turn up this device.").waitFor();
    expect(await tones(page)).toEqual([880]);
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
    await expect.poll(() => page.title()).toBe("(!) Line · Saltmarsh House");
    fixture.alarms = [];
    await expect.poll(() => page.title()).toBe("Line · Saltmarsh House");
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
    expect(await page.locator(".nav").count()).toBe(0);
    // A wall tablet is some 135 mm high: at 13 % of it the word is 17 mm, ISO 9241-303 asks for 16' of arc, 14 mm at 3 m.
    const share = await page.evaluate<number>(
      "Number.parseFloat(getComputedStyle(document.querySelector('.board .dw')).fontSize) / innerHeight",
    );
    expect(share).toBeGreaterThanOrEqual(0.125);
    await page.locator(".board h1").click();
    await page.locator(".drum").first().waitFor();
    await expect.poll(() => locks(page)).toBe(0);
  });
});

describe("two people on one device", () => {
  const as = (name: string, role = "operator", settings: unknown = null) =>
    new Map<string, unknown>([
      ...(inState("calm").answers ?? []),
      [
        "/api/me",
        { signedIn: { kind: "person", name, role }, setUp: false, plain: true, given: false, settings },
      ],
    ]);
  const gallons = {
    language: "de",
    numbers: "de-DE",
    conductivity: "mg/L",
    volume: "gal",
    temperature: "degF",
  };
  const nobody = { signedIn: null, setUp: false, plain: true, given: false };

  it("what one chose is not there for the next, nor at the door between them", async () => {
    fixture.answers = as("Mara", "operator", gallons);
    const page = await open();
    await page.locator(".drum .lit", { hasText: "gal" }).first().waitFor();
    fixture.answers = new Map([["/api/me", nobody]]);
    await page.reload();
    await page.getByRole("button", { name: "Sign in" }).waitFor();
    expect(await page.getAttribute("html", "lang")).toBe("en");
    expect(await page.evaluate("localStorage.getItem('drumlin.person')")).toBe(null);
    fixture.answers = as("Jonas");
    await page.reload();
    await page.locator(".drum .lit", { hasText: " L" }).first().waitFor();
  });

  it("where somebody else signs in in another tab, the first tab becomes theirs when its stream comes anew", async () => {
    fixture.answers = as("Mara");
    const page = await open();
    await page.evaluate("globalThis.isOld = true");
    fixture.answers = as("Jonas", "viewer");
    // The gateway ends the streams of whoever is signed out.
    server.cut();
    await page.waitForFunction("globalThis.isOld === undefined");
    await page.locator(".drum").first().waitFor();
    await page.evaluate("location.hash = '#more'");
    await page.getByRole("heading", { name: "Jonas" }).waitFor();
  });

  it("a session that ran out while the page was on its way: the door, though its stream was asked for early", async () => {
    fixture.refuse = true;
    fixture.answers = new Map([["/api/me", nobody]]);
    const page = await context.newPage();
    await page.goto(`http://127.0.0.1:${server.port}/`);
    await page.getByRole("button", { name: "Sign in" }).waitFor();
    expect(server.asked.filter((one) => one.includes("/api/live")).length).toBeGreaterThan(0);
    expect(await page.locator(".drum").count()).toBe(0);
    const before = server.asked.length;
    await page.waitForTimeout(1500);
    expect(server.asked.slice(before).filter((one) => one.includes("/api/live"))).toEqual([]);
  });
});

describe("settings that were kept wrongly", () => {
  it.each([
    ["that nothing can read", "{"],
    [
      "with a language, a form of numbers and a unit that do not exist",
      '{"language":"xx","numbers":"?!","volume":"barrel"}',
    ],
  ])("%s: the page stands, with what is usual", async (_, kept) => {
    await context.addInitScript(`
      localStorage.setItem("drumlin.settings", ${JSON.stringify(kept)});
      localStorage.setItem("drumlin.person", ${JSON.stringify(kept)});
      localStorage.setItem("drumlin.theme", "neon");
      localStorage.setItem("drumlin.sound", "loud");
      sessionStorage.setItem("drumlin.drawn", ${JSON.stringify(kept)});`);
    const page = await open();
    await page.locator(".drum .lit", { hasText: " L" }).first().waitFor();
    expect(await page.getAttribute("html", "data-theme")).toBe(null);
    await sound(page, "off").waitFor();
  });

  it("of a newer gateway: what this page does not know is as usual, what it knows holds", async () => {
    const settings = {
      language: "xx",
      numbers: "zz-ZZ-",
      conductivity: "uS/cm",
      volume: "gal",
      temperature: "K",
    };
    fixture.answers = new Map([
      ...(inState("calm").answers ?? []),
      [
        "/api/me",
        {
          signedIn: { kind: "person", name: "Mara", role: "operator" },
          setUp: false,
          given: false,
          settings,
        },
      ],
    ]);
    const page = await open();
    await page.locator(".drum .lit", { hasText: "gal" }).first().waitFor();
    expect(await page.getAttribute("html", "lang")).toBe("en");
  });
});

describe("light and dark", () => {
  it("are chosen for this device, at once and for good, whatever the device itself shows", async () => {
    const page = await open("more");
    await page.emulateMedia({ colorScheme: "light" });
    const paper = () => page.evaluate<string>("getComputedStyle(document.documentElement).backgroundColor");
    const light = await paper();
    await page.getByRole("group", { name: "Light or dark" }).getByText("Dark").click();
    await expect.poll(paper).not.toBe(light);
    const dark = await paper();
    const bars = () =>
      page.evaluate<string[]>(
        "[...document.querySelectorAll('meta[name=theme-color]')].map((bar) => bar.content)",
      );
    expect(await bars()).toEqual(["#121516", "#121516"]);
    await page.reload();
    await page.getByRole("heading", { name: "More", level: 1 }).waitFor();
    expect(await paper()).toBe(dark);
    await page.getByRole("group", { name: "Light or dark" }).getByText("As the device").click();
    await expect.poll(paper).toBe(light);
    expect(await bars()).toEqual(["#e6e8e4", "#121516"]);
  });
});

describe("the log of alarms", () => {
  it("is searched by a word: a subject, a person, what happened; and says where nothing has it", async () => {
    const page = await open("alarms");
    const rows = page.locator(".log li:not(.dayh)");
    await rows.nth(2).waitFor();
    const said = async () => (await rows.allTextContents()).join("").length;
    const all = await said();
    const find = page.getByRole("searchbox", { name: "Find" });
    await find.fill("mara");
    await expect.poll(said).toBeLessThan(all);
    for (const text of await rows.allTextContents()) expect(text).toContain("Mara");
    await find.fill("no such thing");
    await page.getByText(/^None of the \d+ here says that\.$/).waitFor();
    await find.fill("");
    await expect.poll(said).toBe(all);
  });
});

describe("what is chosen quickly, or on two devices", () => {
  it("two choices at once come to the gateway in their order, and both hold; so does what another device chose", async () => {
    server.choose(null);
    const page = await open("more");
    server.choose({
      language: "auto",
      numbers: "auto",
      conductivity: "uS/cm",
      volume: "L",
      temperature: "degF",
    });
    await page.getByRole("group", { name: "Volume" }).getByText("gal").click();
    await page.getByLabel("Language").selectOption("de");
    await page.getByRole("heading", { name: "Mehr" }).waitFor();
    const posts = () => server.asked.filter((one) => one === "POST /api/me/settings").length;
    await expect.poll(posts).toBe(2);
    await page.evaluate("location.hash = ''");
    await page.locator(".drum .lit", { hasText: "gal" }).first().waitFor();
    await page.getByText("°F").first().waitFor();
    expect(await page.getAttribute("html", "lang")).toBe("de");
  });
});
