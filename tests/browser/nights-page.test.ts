import type { NightLine, NightView } from "@drumlin/gateway/contract";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, goodDrum, goodPoint, startFixtureServer } from "./fixture-server.ts";

const hourMs = 3_600_000;
const beganMs = Date.UTC(2026, 10, 24, 20);
const at = (hours: number) => new Date(beganMs + hours * hourMs).toISOString();

function line(day: number, change: Partial<NightLine> = {}): NightLine {
  const date = `2026-11-${String(day).padStart(2, "0")}`;
  return {
    date,
    from: at((day - 24) * 24),
    to: at((day - 24) * 24 + 10),
    running: false,
    watched: 1,
    litres: 150,
    drums: [{ drum: "fresh", litres: 150, mean25: 0.6, peak25: 0.9 }],
    fills: 1,
    stoppedByFloat: 1,
    attention: null,
    alarms: 0,
    ...change,
  };
}

const fill: NightView["fills"][number] = {
  id: "fresh@1",
  drum: "fresh",
  startedAt: at(1),
  endedAt: at(2),
  pausedSince: null,
  litres: 152,
  estimated: false,
  basis: "level",
  mean25: 3.9,
  peak25: 8.4,
  firstWater25: 12,
  end: "not-stopping",
  tripConfirmed: null,
  trippedAt: null,
  tripAt: null,
  watched: 0.98,
  notStopping: "past-trip-volume",
  reasons: [],
  revision: 0,
};

const night: NightView = {
  date: "2026-11-24",
  timezone: "Europe/Berlin",
  from: at(0),
  to: at(10),
  running: false,
  watched: 0.97,
  unwatched: [
    { from: at(4.3), to: at(4.6), who: "press", channels: ["press/ec-1", "press/ec-2"], fills: [] },
  ],
  first: [
    {
      attention: "wake",
      subject: "fresh",
      kind: "alarm",
      condition: "drum-not-stopping",
      silenced: { as: "shelved", until: at(11) },
      text: "Fresh drum: did not stop",
      todo: "Lift its float and watch it trip.",
    },
    {
      attention: "tell",
      subject: "fresh",
      kind: "hold",
      condition: null,
      silenced: null,
      text: "Fresh drum: hold",
      todo: "Test it.",
    },
  ],
  litres: 152,
  fills: [
    fill,
    {
      ...fill,
      id: "fresh@2",
      startedAt: at(6),
      endedAt: at(6.2),
      end: "float-tripped",
      tripConfirmed: true,
      trippedAt: at(6.199),
      tripAt: 171,
      mean25: 0.6,
      litres: 79,
    },
  ],
  drums: [
    {
      drum: "fresh",
      litres: 231,
      fills: 2,
      mean25: 3.9,
      peak25: 8.4,
      watched: 0.98,
      drawn: 42,
      words: [
        { verdict: "use", since: at(-20), reasons: [] },
        { verdict: "hold", since: at(1.7), reasons: ["over 5 µS/cm came in"] },
      ],
    },
  ],
  batches: [{ at: at(3), drum: "fresh", state: "ready", salinity: 34.9, kg: 6.3 }],
  floats: [{ at: at(6.199), drum: "fresh", role: "stop", wet: true, litres: 171 }],
  draws: [{ drum: "fresh", from: at(0.4), to: at(0.5), litres: 42 }],
  alarms: [
    {
      key: "drum-not-stopping:fresh",
      occurrence: "7",
      condition: "drum-not-stopping",
      subject: "fresh",
      attention: "wake",
      text: "Drum does not stop filling",
      response: "Close the supply.",
      raisedAt: at(1.9),
      raisedInNight: true,
      endedAt: null,
      seenAt: at(1.95),
      seenBy: "Mara",
      value: 184,
      limit: 170,
      unit: "L",
      state: "shelved",
      stands: false,
      silenced: { as: "shelved", until: at(11) },
      under: null,
    },
  ],
  nodes: [{ node: "press", silentSeconds: 1080, starts: 0 }],
  acts: [
    {
      at: at(10.5),
      by: "Mara",
      button: null,
      what: "note",
      subject: "night 2026-11-24",
      until: null,
      note: "Solenoid hummed.",
    },
  ],
};

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
    answers: new Map<string, unknown>([
      [
        "/api/nights",
        {
          items: [line(24, { attention: "wake", watched: 0.97, litres: 231 }), line(23), line(22)],
          next: null,
        },
      ],
      ["/api/nights/2026-11-24", night],
      [
        "/api/nights/2026-11-23",
        { ...night, date: "2026-11-23", first: [], fills: [], unwatched: [], watched: 1 },
      ],
    ]),
  };
  server = await startFixtureServer(fixture);
});
afterEach(async () => {
  await page.close();
  await server.stop();
});

async function open(width: number, colorScheme: "light" | "dark" = "light") {
  page = await browser.newPage({
    viewport: { width, height: 844 },
    colorScheme,
    timezoneId: "America/New_York",
  });
  await page.goto(`http://127.0.0.1:${server.port}/#nights`);
  await page.locator(".firsts li").first().waitFor();
}
const isSideways = () => page.evaluate<boolean>("document.documentElement.scrollWidth > innerWidth");

describe("the page Nights", () => {
  it("opens at the newest night: what to do first, how much was watched, in the zone of the house", async () => {
    await open(1280);
    expect(await page.locator("#night h2").first().textContent()).toBe("Tuesday night, 24 November");
    expect(await page.locator(".bigfacts").textContent()).toContain("97 %");
    expect(await page.locator(".firsts li").allTextContents()).toEqual([
      expect.stringContaining("Fresh drum: did not stop at its float (silent until 08:00)."),
      expect.stringContaining("Fresh drum: hold, over 5 µS/cm came in."),
    ]);
    // 20:00 UTC is 21:00 there, whatever the clock of the device says; the page says so.
    expect(await page.locator("#night .pagehead").textContent()).toContain(
      "21:00 to 07:00 · times of Europe/Berlin",
    );
    expect(await page.locator("aside").textContent()).toContain("01:18 to 01:36 · node press not heard");
    expect(await page.locator(".ncol[aria-current]").getAttribute("aria-label")).toBe(
      "Night of 24 November: 231 L, watched 97 %, trouble",
    );
    expect(await isSideways()).toBe(false);
  });

  it("what nobody watched is hatched in the night's bar, over its 18 min", async () => {
    await open(390, "dark");
    const gap = page.locator(".nightbar .gap");
    expect(await gap.getAttribute("style")).toMatch(/left: 43%; width: 3(\.0+\d*)?%/);
    expect(await isSideways()).toBe(false);
  });

  it("arrow keys go from night to night; a quiet one says so", async () => {
    await open(390);
    await page.locator(".ncol[aria-current]").focus();
    await page.keyboard.press("ArrowLeft");
    await page.getByText("Nothing. A quiet night.").waitFor();
    expect(page.url()).toContain("date=2026-11-23");
    expect(await page.evaluate('document.activeElement.getAttribute("aria-label")')).toContain("23 November");
  });

  it("the fill in trouble is opened first; another by a tap, with its float's mark on the axis of time", async () => {
    fixture.buckets = {
      unit: "L",
      bucketMs: 60_000,
      t: Array.from({ length: 60 }, (_, index) => beganMs + 6 * hourMs + (index - 5) * 30_000),
      min: Array.from({ length: 60 }, (_, index) => 90 + index),
      mean: Array.from({ length: 60 }, (_, index) => 90 + index),
      max: Array.from({ length: 60 }, (_, index) => 90 + index),
      count: Array.from({ length: 60 }, () => 3),
      flag: Array.from({ length: 60 }, () => 1 as const),
    };
    await open(1280);
    await page.locator("#fill h2", { hasText: "Fresh drum, 22:00 to 23:00" }).waitFor();
    await page.locator(".fillrow").nth(1).click();
    await page.locator("#fill h2", { hasText: "Fresh drum, 03:00 to 03:12" }).waitFor();
    await page.locator("#fill .flm", { hasText: "stop wet, 171 L" }).waitFor();
    expect(await page.locator("#fill .panel").count()).toBe(3);
    expect(await page.locator("#fill").textContent()).toContain(
      "Float tripped at 171 L, inflow ended 4 s later.",
    );
  });

  it("prints on two pages at most: no buttons, on white", async () => {
    await open(390, "dark");
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    expect(await page.locator("#night .btn:visible, .acts:visible, textarea:visible").count()).toBe(0);
    expect(await page.locator(".firsts").isVisible()).toBe(true);
    const pdf = (await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(2);
  });

  it("when the gateway does not answer it says so, and not that there was no night", async () => {
    fixture.answers = new Map();
    page = await browser.newPage({ viewport: { width: 390, height: 844 } });
    await page.goto(`http://127.0.0.1:${server.port}/#nights`);
    await page.getByText("Couldn't load the nights.").waitFor();
    expect(await page.getByText("No night yet").count()).toBe(0);
  });
});
