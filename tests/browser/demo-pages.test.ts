import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";

const main = fileURLToPath(new URL("../../gateway/src/main.mjs", import.meta.url));

let browser: Browser;
let page: Page;
let demo: ChildProcess;
let url = "";

beforeAll(async () => {
  demo = spawn(process.execPath, [main, "demo", "--http", "127.0.0.1:0", "--mqtt", "127.0.0.1:0"], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  url = await new Promise<string>((resolve, reject) => {
    let text = "";
    demo.stdout?.on("data", (chunk: Buffer) => {
      text += chunk.toString();
      const found = /page: (http:\S+)/.exec(text)?.[1];
      if (found) resolve(found);
    });
    demo.on("close", () => reject(new Error(`the demo ended: ${text}`)));
  });
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 390, height: 844 } });
});
afterAll(async () => {
  await browser?.close();
  const ended = new Promise((resolve) => demo?.on("close", resolve));
  if (demo?.kill("SIGTERM")) await ended;
});

const go = (name: string) => page.locator(".nav").getByRole("link", { name }).click();

describe("the demo, in a real browser", () => {
  it("shows why the drum is on hold and that last night's fill was not stopped by its float", async () => {
    await page.goto(url);
    await page.locator(".drum.hold[data-drum=mix]").getByText("over 5 µS/cm came in").waitFor();
    await page
      .locator(".arow.wake")
      .getByRole("heading", { name: "Mix drum: did not stop at its float" })
      .waitFor();
    await page
      .locator(".arow.tell")
      .getByRole("heading", { name: "After resin: letting salts through" })
      .waitFor();
  });

  it("draws the water of a drum where its litres say, at once: a drum just emptied is not drawn full", async () => {
    await page.locator(".drum .wtr").first().waitFor();
    expect(
      await page.evaluate("getComputedStyle(document.querySelector('.drum .wtr')).transitionDuration"),
    ).toBe("0s");
    await expect.poll(() => page.locator(".drum").count()).toBe(3);
  });

  it("shows every number of the line on a phone", async () => {
    await page.locator(".cell .val").first().waitFor();
    const rights = () =>
      page.evaluate<number[]>(
        "[...document.querySelectorAll('.cell .val')].map((value) => value.getBoundingClientRect().right)",
      );
    await expect.poll(async () => (await rights()).length).toBeGreaterThanOrEqual(4);
    await expect.poll(async () => Math.max(...(await rights()))).toBeLessThanOrEqual(390);
  });

  it("Trend draws the series, marks fills and alarms, and keeps what it shows in the address", async () => {
    await go("Trend");
    await page.locator(".tcharts .ln").first().waitFor({ state: "attached" });
    const rows = page.locator(".log li");
    await expect.poll(() => rows.count()).toBeGreaterThanOrEqual(3);
    // Last night may lie further back than a day.
    await page.getByRole("button", { name: "7 d" }).click();
    await page.locator(".log li.bad").getByText("did not stop at its float").first().waitFor();
    await page.locator(".tcharts .fill").first().waitFor();
    await page.locator(".tcharts .ab").first().waitFor();
    await page.getByRole("button", { name: "Add or take away…" }).click();
    await page.getByRole("button", { name: "Mix drum, contents", exact: true }).click();
    await page.keyboard.press("Escape");
    await expect.poll(() => page.url()).toContain("drums/mix/volume");
    await expect.poll(() => page.url()).toContain("hours=168");
    // Litres are not drawn on the scale of conductivities.
    await expect.poll(() => page.locator(".tcharts .panel").count()).toBe(2);
    // A chart that nothing changes is not built again and again: the finger on it would lose its place.
    const builtMeanwhile = () =>
      page.evaluate<number>(`new Promise((resolve) => {
        let built = 0;
        const builds = new MutationObserver((changes) => {
          for (const { addedNodes } of changes) built += addedNodes.length;
        });
        builds.observe(document.querySelector(".tcharts"), { childList: true, subtree: true });
        setTimeout(() => {
          builds.disconnect();
          resolve(built);
        }, 2500);
      })`);
    // What was just added is drawn first; later a gap or a fill may come in where a minute begins.
    await expect.poll(builtMeanwhile).toBeLessThanOrEqual(4);
    await page.reload();
    await expect.poll(() => page.locator(".tcharts .panel").count()).toBe(2);
    await page.locator(".at-cursor").getByText("Mix drum, contents").waitFor();
  });

  it("Alarms lists what stands and what happened", async () => {
    await go("Alarms");
    await page.locator(".acard.wake").getByRole("button", { name: "Mark as seen" }).click();
    await page.locator(".log").getByText("seen by operator").first().waitFor();
    await page.locator(".acard.wake").locator("summary", { hasText: "Reset…" }).click();
    await page.locator(".acard.wake").getByRole("button", { name: "I don't know" }).click();
    await page.locator(".acard.wake").waitFor({ state: "detached" });
  });

  it("a person answers for a drum on hold, and it is on hold no more", async () => {
    await go("Line");
    await page.locator(".drum.hold[data-drum=mix]").getByRole("button", { name: "what you can do" }).click();
    await page.getByRole("button", { name: "Release this water…" }).click();
    const sheet = page.getByRole("dialog", { name: "Release the water in Mix drum" });
    await sheet.getByText("After resin: letting salts through").waitFor();
    await sheet.getByRole("button", { name: "I dumped it" }).click();
    await sheet.getByText("The level still says").waitFor();
    await sheet.getByRole("button", { name: "I tested it" }).click();
    await sheet.getByRole("button", { name: "Release", exact: true }).click();
    await sheet.getByText("Enter what you found, or say what you tested.").waitFor();
    await sheet.getByLabel("Conductivity you found").fill("0,8");
    await sheet.getByRole("button", { name: "Release", exact: true }).click();
    await page.locator(".drum.hold[data-drum=mix]").waitFor({ state: "detached" });
  });

  it("sound is turned on by a tap, and says so", async () => {
    const sound = page.getByRole("button", { name: "Alarm sound: off" });
    await sound.click();
    await page.locator(".sound[aria-pressed=true]").waitFor();
    await go("Alarms");
    await page.getByRole("heading", { name: "Alarms", level: 1 }).waitFor();
    await page.locator(".sound[aria-pressed=true]").waitFor();
    await page.getByRole("button", { name: "Test the sound" }).click();
    await page.reload();
    await page.locator(".sound[aria-pressed=true]").waitFor();
  });

  it("no page is wider than a small phone, or says anything to the console", async () => {
    const errors: string[] = [];
    const small = await browser.newPage({ viewport: { width: 320, height: 640 }, colorScheme: "dark" });
    small.on("console", (message) => message.type() === "error" && errors.push(message.text()));
    small.on("pageerror", (error) => errors.push(error.message));
    for (const name of [
      "",
      "trend",
      "alarms",
      "nodes",
      "more",
      "people",
      "line-file",
      "messages",
      "points/after-resin",
      "drums/mix",
    ]) {
      await small.goto(`${url}#${name}`);
      await small.locator("nav a[aria-current]:visible, nav a.phone-here:visible").first().waitFor();
      await small.locator("main > *").first().waitFor();
      await expect
        .poll(() => small.evaluate("document.documentElement.scrollWidth"), { message: name })
        .toBeLessThanOrEqual(320);
    }
    expect(errors).toEqual([]);
    await small.close();
  });
});
