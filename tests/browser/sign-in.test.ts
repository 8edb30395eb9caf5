import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { drumlin } from "../acceptance/command-line.ts";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";

let browser: Browser;
let site: Awaited<ReturnType<typeof newSite>>;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let page: Page;
const errors: string[] = [];

beforeAll(async () => {
  site = await newSite(["press"]);
  gateway = await startProcess(site);
  browser = await startChromium();
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, colorScheme: "dark" });
  page = await context.newPage();
  page.on("pageerror", (error) => errors.push(error.message));
});
afterAll(async () => {
  await browser?.close();
  await gateway?.stop();
});

const address = (path = "") => `http://127.0.0.1:${gateway.http}/${path}`;
const width = () => page.evaluate("document.documentElement.scrollWidth");

describe("the first account, and signing in", () => {
  it("the page shows the line and the way to the first account", async () => {
    await page.goto(address());
    await page.getByRole("link", { name: "Make the first account" }).click();
    await page.getByRole("heading", { name: "The first account" }).waitFor();
    await expect.poll(width).toBeLessThanOrEqual(390);
  });

  it("a wrong code is told in place; the printed one makes the account and signs in", async () => {
    await page.getByLabel("Set-up code").fill("AAAA AAAA AAAA AAAA");
    await page.getByLabel("Name").fill("Mara");
    await page.getByLabel("Password").fill("brackish mornings");
    await page.getByRole("button", { name: "Make the account" }).click();
    await page.getByRole("alert").getByText("not the one that the gateway printed").waitFor();
    const code = /Set-up code, for the first one: (\S+)/.exec(gateway.printed())?.[1] ?? "";
    await page.getByLabel("Set-up code").fill(code.toLowerCase());
    await page.getByRole("button", { name: "Make the account" }).click();
    await page.getByRole("link", { name: "More" }).click();
    await page.getByRole("heading", { name: "Mara" }).waitFor();
    await page.getByRole("heading", { name: "The first account" }).waitFor({ state: "detached" });
    await expect.poll(width).toBeLessThanOrEqual(390);
    // A script of the page can't read the session.
    expect(await page.evaluate("document.cookie")).toBe("");
  });

  it("signed out, the page asks who looks, and shows nothing of the line", async () => {
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByRole("button", { name: "Sign in" }).waitFor();
    await expect.poll(() => page.locator(".drum").count()).toBe(0);
    await page.getByLabel("Name").fill("mara");
    await page.getByLabel("Password").fill("a wrong guess");
    await page.keyboard.press("Enter");
    await page.getByText("The name or the password is wrong.").waitFor();
    await page.getByLabel("Password").fill("brackish mornings");
    await page.keyboard.press("Enter");
    await page.getByRole("link", { name: "More" }).click();
    await page.getByRole("heading", { name: "Mara" }).waitFor();
    await page.getByRole("link", { name: "Line", exact: true }).click();
    await page.locator(".drum").first().waitFor();
  });

  it("an operator adds somebody, keeps them out and lets them in again, and makes a program's token", async () => {
    await page.goto(address("#people"));
    const add = page.locator("form").filter({ has: page.getByRole("button", { name: "Add somebody" }) });
    await add.getByLabel("Name").fill("Odil");
    await add.getByLabel("Password").fill("short");
    await add.getByRole("button", { name: "Add somebody" }).click();
    // The browser asks for ten letters before anything is sent.
    expect(await add.locator("input:invalid").count()).toBe(1);
    await add.getByLabel("Password").fill("brackish mornings");
    await add.getByRole("button", { name: "Add somebody" }).click();
    await page.getByText("Odil may sign in.").waitFor();
    await page.getByRole("button", { name: "Change…: Odil" }).click();
    await page.getByRole("button", { name: "Disable: Odil" }).click();
    await page.getByText("Odil may not sign in for now.").waitFor();
    await page.getByRole("button", { name: "Enable: Odil" }).click();
    await page.getByText("Odil may sign in again.").waitFor();
    await page.keyboard.press("Escape");
    // Nobody can take the last operator's role away.
    await page.getByRole("button", { name: "Change…: Mara" }).click();
    await page.getByRole("button", { name: "Make viewer: Mara" }).click();
    await page.getByText("the last operator").waitFor();
    await page.keyboard.press("Escape");
    const program = page.locator("form").filter({ has: page.getByRole("button", { name: "Make a token" }) });
    await program.getByLabel("Program").fill("wall-tablet");
    await program.getByRole("button", { name: "Make a token" }).click();
    await page.getByText("The token of wall-tablet, shown this once:").waitFor();
    await page.getByRole("button", { name: "Revoke: wall-tablet" }).click();
    await page.getByText("wall-tablet is no longer let in.").waitFor();
    await expect.poll(width).toBeLessThanOrEqual(390);
  });

  it("the keys of the line file are found by a word", async () => {
    await page.goto(address("#line-file"));
    await page.getByLabel("Find").fill("float");
    await page.getByText("drums.*.floats.overflow").waitFor();
    await expect.poll(width).toBeLessThanOrEqual(390);
    await page.goto(address());
  });

  it("a person who is removed sees the sign-in page instead of the line", async () => {
    const word = ["--data", site.data, "--password-stdin"];
    await drumlin(["user", "add", "Jonas", "--role", "operator", ...word], "brackish evenings\n");
    expect((await drumlin(["user", "remove", "Mara", "--data", site.data])).code).toBe(0);
    await page.getByRole("button", { name: "Sign in" }).waitFor();
    await expect.poll(() => page.locator(".drum").count()).toBe(0);
    expect(errors).toEqual([]);
  });
});
