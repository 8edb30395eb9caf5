import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { atRest } from "./at-rest.ts";
import { startChromium } from "./chromium.ts";
import { type Fixture, startFixtureServer } from "./fixture-server.ts";
import { inState } from "./house/states.ts";

let browser: Browser;
let context: BrowserContext;
let fixture: Fixture;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

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
});
afterEach(() => context.close());

async function open(hash = ""): Promise<Page> {
  const page = await context.newPage();
  await page.goto(`http://127.0.0.1:${server.port}/#${hash}`);
  await page.locator("footer, .board").first().waitFor();
  return page;
}
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
    await expect.poll(() => page.getAttribute("html", "lang")).toBe("en");
    await expect.poll(() => page.evaluate("localStorage.getItem('drumlin.person')")).toBe(null);
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
    await expect
      .poll(() => server.asked.filter((one) => one.includes("/api/live")).length)
      .toBeGreaterThan(0);
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
    await expect.poll(() => page.getAttribute("html", "data-theme")).toBe(null);
    await page.getByRole("button", { name: "Alarm sound: off" }).waitFor();
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
    await expect.poll(() => page.getAttribute("html", "lang")).toBe("en");
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
    await expect.poll(bars).toEqual(["#121516", "#121516"]);
    await page.reload();
    await page.getByRole("heading", { name: "More", level: 1 }).waitFor();
    await expect.poll(paper).toBe(dark);
    await page.getByRole("group", { name: "Light or dark" }).getByText("As the device").click();
    await expect.poll(paper).toBe(light);
    await expect.poll(bars).toEqual(["#e6e8e4", "#121516"]);
  });
});

describe("the log of alarms", () => {
  it("is searched by a word: a subject, a person, what happened; and says where nothing has it", async () => {
    const page = await open("alarms");
    const rows = page.locator(".log li:not(.dayh)");
    await rows.nth(2).waitFor();
    await atRest(page, server);
    const said = async () => (await rows.allTextContents()).join("").length;
    const all = await said();
    const find = page.getByRole("searchbox", { name: "Find" });
    await find.fill("mara");
    await expect.poll(said).toBeLessThan(all);
    await expect
      .poll(async () => (await rows.allTextContents()).filter((text) => !text.includes("Mara")))
      .toEqual([]);
    await find.fill("no such thing");
    await page.getByText(/^None of the \d+ here mentions that\.$/).waitFor();
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
    await expect.poll(() => page.getAttribute("html", "lang")).toBe("de");
  });
});
