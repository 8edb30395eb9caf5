import { readFile } from "node:fs/promises";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { atRest } from "./at-rest.ts";
import { fixture, withSpike } from "./spike-fixture.ts";
import { hoursIn, linkOf, openTrend, spanS } from "./trend-page.ts";

let trend: Awaited<ReturnType<typeof openTrend>>;
let page: (typeof trend)["page"];
let server: (typeof trend)["server"];
let show: (typeof trend)["show"];
let asked: (typeof trend)["asked"];

beforeAll(async () => {
  trend = await openTrend();
  ({ page, server, show, asked } = trend);
});
// What a test changes is there for its own time only.
afterEach(async () => {
  delete fixture.timezone;
  fixture.series = withSpike;
  await page.keyboard.up("Shift");
  await page.emulateMedia({ colorScheme: "light" });
});
afterAll(() => trend?.close());

const hours = () => hoursIn(page);

describe("the page Trend", () => {
  it("a spike of one reading is seen in a view of 14 days: by the eye, and at the cursor", async () => {
    await show("show=drums/fresh/volume&hours=336");
    await page.getByRole("button", { name: "14 days", pressed: true }).waitFor();
    // Dark pixels of the upright that the spike is, far above the line of the mean.
    const plot = page.locator(".tcharts .plot").first();
    const box = await plot.boundingBox();
    if (!box) throw new Error("no plot");
    const clip = {
      x: box.x + box.width / 2 - 8,
      y: box.y + box.height * 0.3,
      width: 16,
      height: box.height * 0.2,
    };
    const darkest = async () => {
      const bytes = (await page.screenshot({ clip })).toString("base64");
      return page.evaluate(`(async () => {
      const image = new Image();
      image.src = "data:image/png;base64,${bytes}";
      await image.decode();
      const canvas = new OffscreenCanvas(image.width, image.height).getContext("2d");
      canvas.drawImage(image, 0, 0);
      const { data } = canvas.getImageData(0, 0, image.width, image.height);
      let darkest = 255;
      for (let at = 0; at < data.length; at += 4) darkest = Math.min(darkest, data[at]);
      return darkest;
    })()`);
    };
    // The sheet is at 245, a grid line at 197: what is drawn of the spike is darker.
    await expect.poll(darkest).toBeLessThan(180);
    await page.mouse.move(box.x + box.width / 2 + 1, box.y + 40);
    const row = page.locator(".at-cursor tbody tr").first();
    await expect.poll(() => row.textContent()).toMatch(/20\.1 L.*19\.8.*95\.0/);
  });

  it("ranges beyond 14 days: 90 by a tap, a year by its dates; its axis has dates, its spike is seen, its strip is two years", async () => {
    await show("show=drums/fresh/volume&hours=336");
    await page.getByRole("button", { name: "90 days" }).click();
    await expect.poll(hours).toBe(2160);
    await expect.poll(() => Math.round((asked()[1] - asked()[0]) / 86_400_000)).toBe(90);
    await page.getByRole("button", { name: "Choose dates…" }).click();
    await page.getByLabel("From", { exact: true }).fill("2025-03-01T00:00");
    await page.getByLabel("To", { exact: true }).fill("2026-03-01T00:00");
    await page.getByRole("button", { name: "Show" }).click();
    await expect.poll(() => (asked()[1] - asked()[0]) / 86_400_000).toBe(365);
    await page.reload();
    await page.locator(".tcharts .ln").first().waitFor({ state: "attached" });
    // No time of day among them: days apart, each with its month.
    await expect
      .poll(() => page.locator(".tcharts .x").first().textContent())
      .toMatch(/^(\d+ \p{L}{3,4}\s*){3,}$/u);
    await atRest(page, server);
    const box = await page.locator(".tcharts .plot").first().boundingBox();
    await page.mouse.move((box?.x ?? 0) + (box?.width ?? 0) / 2 + 1, (box?.y ?? 0) + 40);
    const row = page.locator(".at-cursor tbody tr").first();
    await expect.poll(() => row.textContent()).toMatch(/20\.1 L.*19\.8.*95\.0/);
    const strip = () => {
      const last = server.asked.findLast((one) => one.includes("/series") && !one.includes("buckets=600"));
      return (
        (Number(/to=(\d+)/.exec(last ?? "")?.[1]) - Number(/from=(\d+)/.exec(last ?? "")?.[1])) / 86_400_000
      );
    };
    await expect.poll(() => Math.round(strip())).toBe(731);
    await page.getByRole("button", { name: "Earlier" }).click();
    await expect.poll(() => linkOf(page)[1] * 1000).toBeLessThan(Date.UTC(2025, 9, 1));
    expect(spanS(page)).toBe(365 * 86_400);
  });

  it("wheel zooms about the pointer, drag pans, twice tapped goes back; all of it stands in the link", async () => {
    await show("show=drums/fresh/volume&hours=24");
    const plot = page.locator(".tcharts .plot").first();
    const box = await plot.boundingBox();
    if (!box) throw new Error("no plot");
    await page.mouse.move(box.x + box.width / 2, box.y + 50);
    await page.mouse.wheel(0, -700);
    await expect.poll(() => spanS(page) / 3600).toBeLessThan(12);
    const [from, to] = linkOf(page);
    expect(Math.abs((from + to) / 2 - (Date.now() / 1000 - 12 * 3600))).toBeLessThan(900);
    await expect.poll(() => Math.abs(asked()[0] / 1000 - linkOf(page)[0])).toBeLessThan(2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 200, box.y + 50, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => linkOf(page)[0]).toBeLessThan(from - 600);
    expect(page.url()).toContain("show=drums/fresh/volume");
    await plot.dblclick();
    await expect.poll(hours).toBe(24);
  });

  it("two fingers zoom, one pans, and the page still scrolls upright", async () => {
    const touch = await trend.browser.newPage({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await touch.goto(`http://127.0.0.1:${server.port}/#trend?show=drums/fresh/volume&hours=24`);
    await touch.locator(".tcharts .ln").first().waitFor({ state: "attached" });
    await atRest(touch, server);
    const box = await touch.locator(".tcharts .plot").first().boundingBox();
    if (!box) throw new Error("no plot");
    const cdp = await touch.context().newCDPSession(touch);
    const y = box.y + 60;
    const fingers = (...xs: number[]) => xs.map((x, id) => ({ x: box.x + x, y, id }));
    const send = (type: "touchStart" | "touchMove" | "touchEnd", points: object[]) =>
      cdp.send("Input.dispatchTouchEvent", { type, touchPoints: points as { x: number; y: number }[] });
    await send("touchStart", fingers(120, 180));
    for (const apart of [10, 20, 30, 40]) await send("touchMove", fingers(120 - apart, 180 + apart));
    await send("touchEnd", []);
    await expect.poll(() => spanS(touch) / 3600).toBeLessThan(14);
    const [from] = linkOf(touch);
    await send("touchStart", fingers(100));
    for (const x of [120, 150, 180, 200]) await send("touchMove", fingers(x));
    await send("touchEnd", []);
    await expect.poll(() => linkOf(touch)[0]).toBeLessThan(from - 600);
    expect(await touch.evaluate("getComputedStyle(document.querySelector('.tcharts')).touchAction")).toBe(
      "pan-y",
    );
    await touch.close();
  });

  it("by keyboard: the cursor moves, plus zooms, page up goes back in time", async () => {
    await show("show=drums/fresh/volume&hours=24");
    const when = () =>
      page
        .locator("section", { has: page.locator(".at-cursor") })
        .locator(".plate-h")
        .textContent();
    const before = await when();
    await page.locator(".tcharts").focus();
    for (let times = 0; times < 5; times += 1) await page.keyboard.press("Shift+ArrowLeft");
    await expect.poll(when).not.toBe(before);
    await page.keyboard.press("PageUp");
    await expect.poll(() => Math.abs(spanS(page) - 86_400)).toBeLessThan(2);
    await page.keyboard.press("+");
    await expect.poll(() => Math.abs(spanS(page) - 43_200)).toBeLessThan(3);
  });

  it("the strip under the charts: its ends go by arrow keys and by drag, the whole by drag", async () => {
    await show("show=drums/fresh/volume&hours=24");
    const from = page.getByRole("slider", { name: "Start of what is shown" });
    await from.focus();
    await page.keyboard.press("ArrowLeft");
    // A hundredth of 14 days.
    await expect.poll(hours).toBeCloseTo(24 + 3.36, 1);
    const strip = await page.locator(".brush-box").boundingBox();
    if (!strip) throw new Error("no strip");
    const dayPx = strip.width / 14;
    const y = strip.y + strip.height / 2;
    const right = strip.x + strip.width;
    // The end, half a day back; then the whole, five days back.
    await page.mouse.move(right - 1, y);
    await page.mouse.down();
    await page.mouse.move(right - 1 - dayPx / 2, y, { steps: 3 });
    await page.mouse.up();
    const link = () => linkOf(page).map((atS) => atS * 1000);
    const ago = (days: number) => Date.now() - days * 86_400_000;
    // Within what a pixel stands for, twice.
    const near = 2 * (86_400_000 / dayPx) + 60_000;
    await expect.poll(() => Math.abs((link()[1] ?? 0) - ago(0.5))).toBeLessThan(near);
    await expect.poll(() => Math.abs((link()[0] ?? 0) - ago(27.36 / 24))).toBeLessThan(near);
    await atRest(page, server);
    await page.mouse.move(right - 0.8 * dayPx, y);
    await page.mouse.down();
    await page.mouse.move(right - 5.8 * dayPx, y, { steps: 3 });
    await page.mouse.up();
    await expect.poll(() => Math.abs((link()[1] ?? 0) - ago(5.5))).toBeLessThan(near);
    await expect.poll(() => Math.abs((link()[0] ?? 0) - ago(27.36 / 24 + 5))).toBeLessThan(near);
  });

  it("any range is chosen, in the house's own time, which is labelled where the device's differs", async () => {
    fixture.timezone = "Pacific/Auckland";
    await show("show=drums/fresh/volume&hours=24");
    await page.getByText("house time (Pacific/Auckland)").waitFor();
    await page.getByRole("button", { name: "Choose dates…" }).click();
    await page.getByLabel("From", { exact: true }).fill("2026-03-01T10:00");
    await page.getByLabel("To", { exact: true }).fill("2026-03-01T09:00");
    await page.getByRole("button", { name: "Show" }).click();
    await page.getByText("The end must come after the beginning.").waitFor();
    await page.getByLabel("To", { exact: true }).fill("2026-03-01T12:00");
    await page.getByRole("button", { name: "Show" }).click();
    // New Zealand daylight time is 13 h ahead of UTC (IANA zone data).
    const from = Date.UTC(2026, 1, 28, 21) / 1000;
    await expect.poll(() => page.url()).toContain(`from=${from}&to=${from + 7200}`);
    await expect.poll(() => page.locator(".tcharts .x").textContent()).toContain("11:00");
  });

  it("channels are found by a word, added and taken away; each unit has a panel of its own", async () => {
    await show("hours=6");
    await expect.poll(() => page.locator(".tcharts .panel").count()).toBe(1);
    await page.getByRole("button", { name: "Add or take away…" }).click();
    await page.getByRole("searchbox", { name: "Find" }).fill("contents");
    await page.getByRole("button", { name: "Fresh drum, contents" }).click();
    await page.keyboard.press("Escape");
    await expect.poll(() => page.locator(".tcharts .panel").count()).toBe(2);
    await expect
      .poll(() => page.url())
      .toContain("show=points/after-resin/conductivity25,drums/fresh/volume");
    await page.reload();
    await expect.poll(() => page.locator(".tcharts .panel").count()).toBe(2);
    await page.getByRole("button", { name: "Take away: Fresh drum, contents" }).click();
    await expect.poll(() => page.locator(".tcharts .panel").count()).toBe(1);
  });

  it("its line goes on with what the stream says, for as long as it shows now", async () => {
    await show("show=drums/fresh/volume&hours=1");
    /** Where the line ends, from the top, once the stream has said so many litres. */
    const endAfter = (litres: number) => async () => {
      const drum = fixture.drums(Date.now()).find(({ id }) => id === "fresh");
      if (!drum) throw new Error("no such drum");
      const volume = { ...drum.volume, value: litres, at: new Date().toISOString() };
      server.tell({ event: "drum", data: { ...drum, volume } });
      const paths = await page.evaluate<string[]>(
        "[...document.querySelectorAll('.tcharts .ln.live')].map((one) => one.getAttribute('d'))",
      );
      return Number(paths[0]?.split(" ").at(-1));
    };
    // The axis goes from 0 to 100 L.
    await expect.poll(endAfter(25)).toBeCloseTo(750, 0);
    await expect.poll(endAfter(80)).toBeCloseTo(200, 0);
    // Of what is past nothing is told now.
    await page.getByRole("button", { name: "Earlier" }).first().click();
    await expect.poll(endAfter(25)).toBeNaN();
  });

  it("is given as a table and as a picture", async () => {
    await show("show=drums/fresh/volume&hours=336");
    const [csv] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "CSV" }).click(),
    ]);
    expect(csv.suggestedFilename()).toMatch(/^drumlin-\d{4}-\d\d-\d\dT\d{4}\.csv$/);
    const rows = (await readFile(await csv.path(), "utf8")).trim().split("\r\n");
    expect(rows[0]).toContain('"Fresh drum, contents mean [L]"');
    expect(rows.some((row) => row.includes(",20.1,19.8,95,300,1"))).toBe(true);
    const [picture] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Picture" }).click(),
    ]);
    const bytes = await readFile(await picture.path());
    expect(bytes.subarray(1, 4).toString()).toBe("PNG");
    expect(bytes.readUInt32BE(16)).toBe(2400);
  });

  it("says what could not be loaded, and never that there was none", async () => {
    fixture.series = undefined;
    await page.goto("about:blank");
    await page.goto(`http://127.0.0.1:${server.port}/#trend?show=drums/fresh/volume&hours=24`);
    await page.getByText("Couldn't load: Fresh drum, contents").waitFor();
    expect(await page.getByText("Nothing was measured").count()).toBe(0);
  });

  it("Shift and drag marks a stretch, which is zoomed into", async () => {
    await show("show=drums/fresh/volume&hours=24");
    const box = await page.locator(".tcharts .plot").first().boundingBox();
    const [left, width, y] = [box?.x ?? 0, box?.width ?? 0, (box?.y ?? 0) + 40];
    await page.keyboard.down("Shift");
    await page.mouse.move(left + width * 0.25, y);
    await page.mouse.down();
    await page.mouse.move(left + width * 0.4, y);
    await page.mouse.move(left + width * 0.5, y);
    await page.locator(".plot .brush").first().waitFor();
    await page.mouse.up();
    await page.keyboard.up("Shift");
    // A quarter of a day.
    await expect.poll(() => Math.abs(spanS(page) - 21_600)).toBeLessThan(600);
    await expect.poll(() => page.locator(".plot .brush").count()).toBe(0);
  });

  it("what is drawn follows light and dark without being built anew", async () => {
    await page.emulateMedia({ colorScheme: "light" });
    await show("show=drums/fresh/volume&hours=24");
    const stroke = () => page.evaluate("getComputedStyle(document.querySelector('.ln')).stroke");
    const light = await stroke();
    await page.emulateMedia({ colorScheme: "dark" });
    await expect.poll(stroke).not.toBe(light);
  });
});
