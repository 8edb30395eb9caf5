import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import {
  type Fixture,
  goodDrum,
  goodPoint,
  quantity,
  standingAlarm,
  type startFixtureServer,
} from "./fixture-server.ts";
import { phonePage } from "./phone-page.ts";

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

const open = () => page.goto(`http://127.0.0.1:${server.port}/`);
const openAlarms = () => page.goto(`http://127.0.0.1:${server.port}/#alarms`);

describe("a good state is shown only from a fresh, judged reading", () => {
  it("a good mark and the word use go when the gateway is lost, and come back with it", async () => {
    await open();
    await page.locator(".cell.ok").waitFor();
    await page.locator(".drum.use").waitFor();
    fixture.refuse = true;
    server.cut();
    await page.getByText("No contact with the gateway since").waitFor();
    await expect.poll(() => page.locator(".cell.ok").count()).toBe(0);
    await expect.poll(() => page.locator(".drum.use").count()).toBe(0);
    // A refused stream is not tried again by the browser: the page must.
    fixture.refuse = false;
    await page.locator(".cell.ok").waitFor();
    await page.locator(".drum.use").waitFor();
  });

  it("a held drum stays held when the gateway is lost", async () => {
    fixture.drums = (nowMs) => [
      {
        ...goodDrum(nowMs),
        water: {
          verdict: "hold",
          since: null,
          reasons: ["over its limit"],
          blend25: null,
          unwatched: 0,
          release: null,
        },
      },
    ];
    await open();
    await page.locator(".drum.hold").waitFor();
    fixture.refuse = true;
    server.cut();
    await page.getByText("No contact with the gateway since").waitFor();
    await expect.poll(() => page.locator(".drum.hold").count()).toBe(1);
  });

  it("who answered for a drum's water stands on its card; for 10 min it can be taken back", async () => {
    const release = (agoMin: number) => ({
      by: "Mara",
      how: "hand-test" as const,
      at: new Date(Date.now() - agoMin * 60_000).toISOString(),
      note: "clear",
      value25: 4,
    });
    fixture.drums = (nowMs) => [
      { ...goodDrum(nowMs), water: { ...goodDrum(nowMs).water, release: release(9) } },
      {
        ...goodDrum(nowMs),
        id: "mix",
        title: "Mix drum",
        water: { ...goodDrum(nowMs).water, release: release(11) },
      },
    ];
    await page.setViewportSize({ width: 1280, height: 900 });
    await open();
    await page.locator(".drum").nth(1).waitFor();
    await expect
      .poll(async () => (await page.locator(".drum .facts").allTextContents())[0])
      .toMatch(/Released by Mara .*\d\d:\d\d: tested by hand, 4\.00\sµS\/cm · clear/);
    const undo = page.getByRole("button", { name: "Undo the release" });
    await expect.poll(() => undo.count()).toBe(1);
    await undo.click();
    await page.getByText("Judged again as before.").waitFor();
    expect(server.asked).toContain("POST /api/drums/fresh/release/undo");
  });

  it("a silent node takes the word of the drum that it feeds: hollow, with the time it was last heard", async () => {
    fixture.points = (nowMs) => [goodPoint(nowMs - 600_000)];
    await open();
    const word = page.locator(".drum.silent");
    await word.getByText(/It was “use” · last heard (\w+ .*)?\d\d:\d\d/).waitFor();
    await expect.poll(() => word.locator(".word").textContent()).toBe("unknown");
    await expect.poll(() => page.locator(".drum.use").count()).toBe(0);
    // Its level still comes: that stands.
    await expect.poll(() => page.locator(".vessel.unk").count()).toBe(0);
  });

  it("a drum that does not stop: the supply is closed, and the reset says what was the matter with the float", async () => {
    const failed = (state: "acknowledged" | "latched-acknowledged") => ({
      ...standingAlarm(state, Date.now() - 60_000),
      key: "drum-not-stopping:fresh",
      condition: "drum-not-stopping",
      subject: "fresh",
      attention: "wake" as const,
    });
    fixture.alarms = [failed("acknowledged")];
    await open();
    await page.locator(".nav").getByRole("link", { name: "Alarms" }).click();
    const card = page.locator(".acard");
    await card.getByRole("button", { name: "I closed the supply" }).click();
    await expect.poll(() => server.asked).toContain("POST /api/drums/fresh/supply-closed");
    fixture.alarms = [failed("latched-acknowledged")];
    await open();
    await page.locator(".nav").getByRole("link", { name: "Alarms" }).click();
    expect(await card.getByRole("button", { name: "Reset", exact: true }).count()).toBe(0);
    await card.locator("summary", { hasText: "Reset…" }).click();
    await card.getByRole("button", { name: "The float was moved" }).click();
    await expect.poll(() => server.asked).toContain("POST /api/alarms/drum-not-stopping%3Afresh/reset");
  });

  it("an act that gets no answer says so after 8 s, where the finger was", async () => {
    fixture.alarms = [standingAlarm("unacknowledged", Date.now() - 60_000)];
    await open();
    await page.locator(".nav").getByRole("link", { name: "Alarms" }).click();
    const card = page.locator(".acard");
    await card.waitFor();
    fixture.hang = true;
    const begunMs = performance.now();
    await card.getByRole("button", { name: "Mark as seen" }).click();
    await card.getByText("Saving…").waitFor();
    await card.getByText("No answer from the gateway. It may not have been saved").waitFor();
    expect(performance.now() - begunMs).toBeGreaterThan(7500);
  });

  it("a calibration shows old and new, is not taken while water runs, and far off only when said twice", async () => {
    const probe = { channel: "press/ec-2", said: 1387 };
    const still = { flowing: false, flow: null } as const;
    let run: object = {};
    fixture.points = (nowMs) => {
      const point = goodPoint(nowMs);
      const conductivity = quantity(1387, "uS/cm", nowMs);
      return [{ ...point, conductivity, probe, run: { ...point.run, ...run } }];
    };
    await page.goto(`http://127.0.0.1:${server.port}/#points/after-resin`);
    await page.getByText("Not while water runs here").waitFor();
    run = still;
    await page.reload();
    await page.getByLabel(/True conductivity of the standard/).fill("1.413");
    const sent = () => server.asked.filter((asked) => asked === "POST /api/calibrations").length;
    await page.getByRole("button", { name: "Calibrate", exact: true }).click();
    await page.getByText("is a lot. Rinse, wait a minute, read again.").waitFor();
    expect(sent()).toBe(0);
    await page.getByRole("button", { name: "1413", exact: true }).click();
    await page.getByText("This corrects the probe by +1.9 %: 1387 → 1413 µS/cm.").waitFor();
    await page.getByRole("button", { name: "Calibrate", exact: true }).click();
    await page.getByText("Calibrated.").waitFor();
    expect(sent()).toBe(1);
  });

  it("a limit of 5000 is asked about again: the supply itself is lower; a slip of the point is too", async () => {
    const supply = { id: "supply", title: "Supply", limit: null };
    fixture.points = (nowMs) => [
      { ...goodPoint(nowMs), ...supply, conductivity25: quantity(402, "uS/cm", nowMs) },
      goodPoint(nowMs),
    ];
    fixture.stages = [
      { id: "resin", title: "Resin", kind: "resin", from: "supply", to: "after-resin", removal: null },
    ];
    fixture.answers = new Map([["/api/line/file", { yaml: "", version: "1", faults: [] }]]);
    await page.goto(`http://127.0.0.1:${server.port}/#points/after-resin`);
    const form = page.locator("form", { has: page.getByLabel(/^New limit/) });
    const sent = () => server.asked.filter((asked) => asked === "POST /api/line/limits").length;
    const save = () => form.getByRole("button", { name: "Save" }).click();
    await form.getByLabel(/^New limit/).fill("5000");
    await save();
    await form.getByText("The supply itself is at 402 µS/cm: an alarm would never ring.").waitFor();
    await form.getByLabel(/^New limit/).fill("50");
    await save();
    await form.getByText("50.0 µS/cm is far from 5.00 µS/cm, the limit until now.").waitFor();
    expect(sent()).toBe(0);
    await save();
    await form.getByText("Limit saved.").waitFor();
    expect(sent()).toBe(1);
  });

  it("an old level is dashed, with what it was and when, not a level", async () => {
    fixture.drums = (nowMs) => [{ ...goodDrum(nowMs), volume: quantity(138, "L", nowMs - 600_000) }];
    await open();
    await page.locator(".vessel.unk").waitFor();
    await expect.poll(() => page.locator(".vessel .lv").count()).toBe(0);
    await page.getByText(/Level last heard .*\d\d:\d\d/).waitFor();
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
    await page.locator(".ptr.h").waitFor();
    expect(await page.locator(".cell.over").count()).toBe(0);
  });

  it("ages and the chart go by the gateway's clock, not the tablet's", async () => {
    const aheadMs = 30 * 86_400_000;
    fixture.now = () => Date.now() + aheadMs;
    const openedMs = Date.now();
    await open();
    await page.getByText("Stop float dry for 1 h 12 min").waitFor();
    await expect.poll(() => server.asked.find((line) => line.includes("/series")) ?? "").toContain("from=");
    const from = Number(/from=(\d+)/.exec(server.asked.find((line) => line.includes("/series")) ?? "")?.[1]);
    const longMs = 6 * 3_600_000;
    // It was asked for between the opening of the page and now.
    expect(from).toBeGreaterThan(openedMs + aheadMs - longMs - 1000);
    expect(from).toBeLessThan(Date.now() + aheadMs - longMs + 1000);
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
    // Sixty readings, none beside another: a dot each.
    await expect
      .poll(
        async () => (await page.locator(".spark .l").getAttribute("d"))?.match(/M[\d.]+ [\d.]+h/g)?.length,
      )
      .toBeGreaterThan(20);
  });
});

describe("by keyboard", () => {
  it("moving to and through the silences silences nothing; choosing one does", async () => {
    fixture.alarms = [standingAlarm("unacknowledged", Date.now() - 60_000)];
    await openAlarms();
    await page.getByRole("button", { name: "Mark as seen" }).focus();
    for (const key of ["Tab", "ArrowDown", "ArrowDown", "Enter", "Tab"]) await page.keyboard.press(key);
    // What the page asked before this has been counted when this is answered.
    await page.evaluate("fetch('/api/line').then((answer) => answer.status)");
    const shelved = () => server.asked.filter((line) => /^POST .*\/shelve$/.test(line)).length;
    expect(shelved()).toBe(0);
    await page.getByRole("button", { name: /^2\sh: After resin/ }).click();
    await expect.poll(shelved).toBe(1);
  });
});
