// `npm run screenshots [-- WORD …]`: every page, state and form at four widths, light and dark, on paper, and the demo,
// into .screenshots/, with contact sheets to look at them at once. With words: only what has one of them in its name.
import { spawn } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { startChromium } from "./chromium.ts";
import { startFixtureServer } from "./fixture-server.ts";
import { scenes, showScenes } from "./house/scenes.ts";
import { inState } from "./house/states.ts";

const main = fileURLToPath(new URL("../../gateway/src/main.ts", import.meta.url));
const folder = fileURLToPath(new URL("../../.screenshots/", import.meta.url));
const height = 844;
const widths = [1280, 820, 390, 320] as const;
const schemes = ["light", "dark"] as const;
const words = process.argv.slice(2);
const isWanted = (name: string) => words.length === 0 || words.some((word) => name.includes(word));
const toPage = (page: Page, path: string) =>
  page.screenshot({ path: `${folder}${path}.png`, fullPage: true });

/** Pages of a house made for it, in every state, with their forms. */
async function ofScenes(browser: Browser): Promise<void> {
  const fixture = inState("calm");
  const server = await startFixtureServer(fixture);
  for (const width of widths)
    for (const colorScheme of schemes) {
      const page = await browser.newPage({
        viewport: { width, height },
        colorScheme,
        reducedMotion: "reduce",
      });
      const show = showScenes(page, fixture, server);
      for (const scene of scenes.filter(({ name }) => isWanted(name))) {
        await show(scene);
        await page.evaluate("document.fonts.ready.then(() => undefined)");
        await toPage(page, `${scene.name}-${width}-${colorScheme}`);
        if (width !== 390 || colorScheme !== "dark" || scene.open) continue;
        // A4 has 794 px of CSS; what is printed from a dark phone is light and whole.
        await page.emulateMedia({ media: "print", colorScheme });
        await page.setViewportSize({ width: 794, height: 1123 });
        await toPage(page, `${scene.name}-paper`);
        await page.pdf({ path: `${folder}${scene.name}.pdf`, format: "A4", preferCSSPageSize: true });
        await page.emulateMedia({ media: null, colorScheme });
        await page.setViewportSize({ width, height });
      }
      await page.close();
    }
  await server.stop();
}

const demoPages = [
  "",
  "trend",
  "alarms",
  "nights",
  "nodes",
  "points/after-resin",
  "drums/mix",
  "wall",
] as const;

/** The demo as it runs. */
async function ofDemo(browser: Browser): Promise<void> {
  const demo = spawn(process.execPath, [main, "demo", "--http", "127.0.0.1:0", "--mqtt", "127.0.0.1:0"], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  try {
    const url = await new Promise<string>((resolve, reject) => {
      let text = "";
      demo.stdout.on("data", (chunk: Buffer) => {
        text += chunk.toString();
        const found = /page: (http:\S+)/.exec(text)?.[1];
        if (found) resolve(found);
      });
      demo.on("close", () => reject(new Error(`the demo ended: ${text}`)));
    });
    for (const [width, colorScheme] of [
      [1280, "light"],
      [390, "dark"],
    ] as const) {
      const page = await browser.newPage({ viewport: { width, height }, colorScheme });
      for (const name of demoPages) {
        await page.goto(`${url}#${name}`);
        await page.locator("main > :nth-child(2)").first().waitFor();
        if (name === "trend") await page.locator(".tcharts .ln").first().waitFor({ state: "attached" });
        if (name === "") await page.locator(".spark .l").first().waitFor({ state: "attached" });
        await toPage(page, `demo-${name.replaceAll("/", "-") || "line"}-${width}-${colorScheme}`);
      }
      await page.close();
    }
  } finally {
    demo.kill("SIGTERM");
  }
}

/** Many pictures on one: the tops of those whose names end so. */
async function contactSheet(browser: Browser, ending: string, columns: number): Promise<void> {
  const files = readdirSync(folder).filter((name) => name.endsWith(`-${ending}.png`) && isWanted(name));
  for (let at = 0; at < files.length; at += columns * 3) {
    const figures = files.slice(at, at + columns * 3).map((name) => {
      const bytes = readFileSync(`${folder}${name}`).toString("base64");
      return `<figure><figcaption>${name}</figcaption><div><img src="data:image/png;base64,${bytes}"></div></figure>`;
    });
    const page = await browser.newPage({ viewport: { width: 1600, height: 900 } });
    await page.setContent(`<style>
      body { margin: 8px; display: grid; grid-template-columns: repeat(${columns}, 1fr); gap: 8px; font: 12px sans-serif; }
      figure { margin: 0; } div { max-height: 640px; overflow: hidden; border: 1px solid #888; } img { width: 100%; }
      </style>${figures.join("")}`);
    await page.screenshot({ path: `${folder}sheet-${ending}-${at / (columns * 3) + 1}.png`, fullPage: true });
    await page.close();
  }
}

if (words.length === 0) rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const browser = await startChromium();
try {
  await ofScenes(browser);
  if (isWanted("demo")) await ofDemo(browser);
  for (const width of widths)
    for (const scheme of schemes) await contactSheet(browser, `${width}-${scheme}`, width > 800 ? 3 : 6);
  await contactSheet(browser, "paper", 4);
} finally {
  await browser.close();
}
console.log(`screenshots: ${folder}`);
