import axe from "axe-core";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import * as de from "../../monitor-ui/src/words/de/index.ts";
import * as en from "../../monitor-ui/src/words/en/index.ts";
import { leavesOf } from "../unit/words/catalogues.ts";
import { atRest, lastingFaults } from "./at-rest.ts";
import { startChromium } from "./chromium.ts";
import { goodDrum, goodPoint, quantity, standingAlarm, startFixtureServer } from "./fixture-server.ts";

/** When the alarm was raised: what is shown of it is compared with this, whatever the hour is meanwhile. */
const raisedMs = Date.now() - 60_000;
let browser: Browser;
let server: Awaited<ReturnType<typeof startFixtureServer>>;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  browser = await startChromium();
  server = await startFixtureServer({
    now: () => Date.now(),
    points: (nowMs) => [
      {
        ...goodPoint(nowMs),
        id: "supply",
        title: "Rohwasser",
        limit: null,
        conductivity25: quantity(41.26, "uS/cm", nowMs),
      },
      { ...goodPoint(nowMs), title: "Nach Harz", conductivity25: quantity(12_345, "uS/cm", nowMs) },
    ],
    drums: (nowMs) => [
      {
        ...goodDrum(nowMs),
        title: "Frischwasser",
        water: {
          ...goodDrum(nowMs).water,
          verdict: "hold",
          reasons: ["water over the limit of 5.5 µS/cm came in (Nach Harz)"],
          unseen: "Chlorine: never tested. Conductivity can't see it.",
        },
        missing: ["Overflow: no float, no floor sensor. Next to buy: a floor sensor."],
      },
    ],
    alarms: [
      standingAlarm("unacknowledged", raisedMs),
      {
        ...standingAlarm("latched-unacknowledged", raisedMs),
        key: "drum-not-stopping:fresh",
        condition: "drum-not-stopping",
        subject: "fresh",
        clearedAt: new Date(Date.now() - 2 * 86_400_000).toISOString(),
      },
    ],
    buckets: null,
    timezone: "Europe/Berlin",
    refuse: false,
  });
});
afterEach(() => context?.close());
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

async function open(
  hash: string,
  {
    locale = "de-DE",
    width = 1280,
    zone = "Europe/Berlin",
  }: { locale?: string; width?: number; zone?: string } = {},
): Promise<void> {
  context = await browser.newContext({ locale, timezoneId: zone, viewport: { width, height: 844 } });
  page = await context.newPage();
  await page.goto(`http://127.0.0.1:${server.port}/${hash}`);
  await page.locator("h1").waitFor();
  await page.locator("footer, .board").first().waitFor();
}

/** The language that the page says it is in, once it is. */
const says = (language: string) => expect.poll(() => page.getAttribute("html", "lang")).toBe(language);

const pages = ["", "#nights", "#trend", "#alarms", "#nodes", "#messages", "#more", "#people", "#wall"].concat(
  "#points/after-resin",
  "#drums/fresh",
  "#draw",
);

/** Everything that the page says: texts, and what is said to whoever hears it. */
const saidOn = () =>
  page.evaluate<string[]>(`(() => {
    const found = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) found.push(walker.currentNode.textContent);
    for (const one of document.querySelectorAll("[aria-label],[title]"))
      found.push(one.getAttribute("aria-label") ?? "", one.getAttribute("title") ?? "");
    return found.map((text) => text.trim()).filter(Boolean);
  })()`);

const german = new Set(leavesOf(de).map(({ text }) => text));
/** English words of the catalogue that German does not have too. */
const english = new Set(
  leavesOf(en)
    .map(({ text }) => text)
    .filter((text) => /\p{L}{3}/u.test(text) && !/[{}]/.test(text) && !german.has(text)),
);

describe("a German browser", () => {
  it("gets German pages, with German figures, and their language said", async () => {
    await open("");
    await page.locator(".cell", { hasText: "Nach Harz" }).getByText("12.345").waitFor();
    await page.locator(".cell", { hasText: "Rohwasser" }).getByText("41,3").waitFor();
    await page.getByText("über 5,5 µS/cm zugelaufen").first().waitFor();
    await page.getByRole("heading", { name: "Nach Harz: lässt Salze durch" }).waitFor();
    await says("de");
    await expect.poll(() => page.locator(".word").first().textContent()).toBe("gesperrt");
    await expect.poll(() => page.title()).toContain("Anlage");
  });

  it("has no word of the English catalogue, no open brace, on any page, and nothing runs over at 320 px", async () => {
    expect(english.size).toBeGreaterThan(400);
    await open("", { width: 320 });
    for (const hash of pages) {
      await page.evaluate(`location.hash = ${JSON.stringify(hash)}`);
      await page.locator("h1").waitFor();
      // Some of these pages ask the gateway for what this one does not have: they are read as they wait.
      await page
        .waitForFunction("!document.querySelector('main')?.innerText.includes('Wird geladen')", null, {
          timeout: 1000,
        })
        .catch(() => undefined);
      const said = await saidOn();
      expect(
        said.filter((text) => english.has(text)),
        hash,
      ).toEqual([]);
      expect(
        said.filter((text) => /\{\w+\}/.test(text)),
        hash,
      ).toEqual([]);
      await expect
        .poll(() => page.evaluate("document.documentElement.scrollWidth"), { message: hash })
        .toBeLessThanOrEqual(320);
    }
  });

  it("what conductivity can't see is said in German, on the card and on the drum's own page", async () => {
    for (const hash of ["", "#drums/fresh"]) {
      await open(hash);
      await expect
        .poll(() => page.locator(".unseen").textContent())
        .toBe("Chlor: nie getestet. Die Leitfähigkeit zeigt es nicht.");
      await context.close();
    }
  });

  it("a row of a phone says all that its alarm asks for, though German is longer", async () => {
    await open("", { width: 390 });
    const cutPx = () =>
      page.evaluate<number | undefined>(`[...document.querySelectorAll(".arow p")]
        .filter((one) => one.textContent.endsWith("muss zurückgesetzt werden · noch nicht gesehen"))
        .map((one) => one.scrollWidth - one.clientWidth)[0]`);
    await expect.poll(cutPx).toBe(0);
  });

  it("is sound for those who hear it", async () => {
    await open("");
    await page.addScriptTag({ content: axe.source });
    const broken = () =>
      page.evaluate<string[]>(
        "axe.run(document, { resultTypes: ['violations'] }).then((all) => all.violations.map(({ id }) => id))",
      );
    expect(await lastingFaults(broken)).toEqual([]);
  });
});

describe("what a person chooses", () => {
  const supply = () => page.locator(".cell", { hasText: "Rohwasser" });
  const chooseAll = async () => {
    await page.getByLabel("Language").selectOption("de");
    await page.getByRole("heading", { name: "Mehr" }).waitFor();
    await page.getByRole("group", { name: "Leitfähigkeit" }).getByText("mg/L").click();
    await page.getByRole("group", { name: "Volumen" }).getByText("US-gal").click();
    await page.getByRole("group", { name: "Temperatur" }).getByText("°F").click();
  };

  it("language, units and form of numbers are in force at once, and on another device of theirs", async () => {
    await open("#more", { locale: "en-GB" });
    await says("en");
    await chooseAll();
    await expect.poll(() => server.asked.filter((one) => one === "POST /api/me/settings").length).toBe(4);
    await atRest(page, server);
    await context.close();
    // Another browser, that was never told anything.
    await open("", { locale: "en-GB" });
    // 41.26 µS/cm × 0.64 mg/L each; 138 L ÷ 3.785 412 L (NIST SP 811).
    await supply().getByText("26,4").waitFor();
    await supply().getByText("mg/L").waitFor();
    await expect.poll(() => page.locator(".drum .lit").textContent()).toBe("36,5 von 52,8\u00a0gal");
    await supply().getByText("64,4 °F").waitFor();
  });

  it("a device can have its own, which stay there; and follow the person again", async () => {
    await open("#more", { locale: "en-GB" });
    const holds = page.getByRole("group", { name: "Das gilt für" });
    await holds.getByText("Nur dieses Gerät").click();
    await page.getByRole("group", { name: "Leitfähigkeit" }).getByText("µS/cm").click();
    await page.reload();
    await holds.getByRole("button", { name: "Nur dieses Gerät", pressed: true }).waitFor();
    await page.evaluate("location.hash = ''");
    await supply().getByText("41,3").waitFor();
    await page.evaluate("location.hash = '#more'");
    await holds.getByText("Mich, auf jedem Gerät").click();
    await page.evaluate("location.hash = ''");
    await supply().getByText("26,4").waitFor();
  });

  it("goes before what the browser would have: no twelve hours for who chose German", async () => {
    await open("", { locale: "en-US" });
    await says("de");
    await expect.poll(() => page.locator(".status").textContent()).toMatch(/, \d{2}:\d{2}(?!\s[AP]M)/);
  });
});

describe("a device two zones away, of a person who chose nothing", () => {
  beforeAll(() => server.choose(null));

  it("shows the site's times, and says so", async () => {
    await open("", { zone: "America/New_York" });
    await page.getByText("Zeiten in Europe/Berlin.").waitFor();
    const shown = new Date(raisedMs).toLocaleTimeString("de-DE", {
      timeZone: "Europe/Berlin",
      hour: "2-digit",
      minute: "2-digit",
    });
    // Past midnight its day stands before it.
    const since = new RegExp(`seit .*${shown}`);
    await expect.poll(() => page.locator(".arow").first().textContent()).toMatch(since);
  });

  it("twelve hours where the browser counts so", async () => {
    await open("", { locale: "en-US", zone: "Europe/Berlin" });
    await says("en");
    await expect.poll(() => page.locator(".status").textContent()).toMatch(/ (?:[1-9]|1[0-2]):\d{2}\s[AP]M/);
  });
});
