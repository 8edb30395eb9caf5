// `npm run screenshots [-- --page WORD …] [--part I/N]`: every page, state and form at four widths, light and dark, and on
// paper, and the demo, into .screenshots/, with contact sheets to look at many at once. `--page`: only what has the word in
// its name; `--part`: only that share of it, so that no run is long.
import { spawn } from "node:child_process";
import { mkdirSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import type { Browser, Page } from "playwright-core";
import { startChromium } from "./chromium.ts";
import { contactSheet, piecesOf } from "./contact-sheets.ts";
import { startFixtureServer } from "./fixture-server.ts";
import { type Scene, scenes, showScenes } from "./house/scenes.ts";
import { inState } from "./house/states.ts";

const main = fileURLToPath(new URL("../../gateway/src/main.mjs", import.meta.url));
const folder = fileURLToPath(new URL("../../.screenshots/", import.meta.url));
const height = 844;
/** Widths of one class: what is opened on the first one stays open on the second. */
const widths = [
  [1280, 820],
  [390, 320],
] as const;
const schemes = ["light", "dark"] as const;
/** What is left of A4 between margins of 13 mm, CSS px. */
const paper = { width: 696, height: 1024 };
/** Printed pages of these are kept as PDF too. */
const printed = /^(line|trend|nights|alarms)-(calm|trouble)$/;

const { values } = parseArgs({
  options: { page: { type: "string", multiple: true }, part: { type: "string" } },
});
const words = values.page ?? [];
const [part, parts] =
  /^(\d+)\/(\d+)$/
    .exec(values.part ?? "1/1")
    ?.slice(1)
    .map(Number) ?? [];
if (part === undefined || parts === undefined || part < 1 || part > parts)
  throw new Error("--part takes a share such as 2/6");
const isWanted = (name: string) => words.length === 0 || words.some((word) => name.includes(word));
const wanted = scenes.filter(({ name }) => isWanted(name));
const own = wanted.filter((_, at) => Math.floor((at * parts) / wanted.length) === part - 1);

const pathOf = (name: string) => `${folder}${name}.png`;
const take = (page: Page, name: string) => page.screenshot({ path: pathOf(name), fullPage: true });

/** As it is printed from what is shown. */
async function onPaper(page: Page, { name }: Scene): Promise<void> {
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  await page.setViewportSize(paper);
  await take(page, `${name}-paper`);
  if (printed.test(name))
    await page.pdf({ path: `${folder}${name}.pdf`, format: "A4", preferCSSPageSize: true });
  await page.emulateMedia({ media: null });
}

/** Pages of a house made for it, in every state, with their forms. */
async function ofScenes(browser: Browser): Promise<void> {
  const fixture = inState("calm");
  const server = await startFixtureServer(fixture);
  const page = await browser.newPage({ reducedMotion: "reduce" });
  page.setDefaultTimeout(60_000);
  const show = showScenes(page, fixture, server);
  for (const scene of own) {
    for (const alike of widths) {
      // A form is opened anew on a phone, where the way to it is another one.
      await page.setViewportSize({ width: alike[0], height });
      if (scene.open || alike === widths[0]) await show(scene);
      for (const width of alike) {
        await page.setViewportSize({ width, height });
        for (const colorScheme of schemes) {
          await page.emulateMedia({ colorScheme });
          await take(page, `${scene.name}-${width}-${colorScheme}`);
        }
      }
    }
    // What is printed from a dark phone is light and whole.
    if (!scene.open) await onPaper(page, scene);
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
const demoName = (name: string) => `demo-${name.replaceAll("/", "-") || "line"}`;

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
    const page = await browser.newPage({ reducedMotion: "reduce" });
    for (const name of demoPages) {
      await page.setViewportSize({ width: 1280, height });
      await page.goto(`${url}#${name}`);
      await page.locator("main > :nth-child(2)").first().waitFor();
      if (name === "trend") await page.locator(".tcharts .ln").first().waitFor({ state: "attached" });
      if (name === "") await page.locator(".spark .l").first().waitFor({ state: "attached" });
      for (const [width, colorScheme] of [
        [1280, "light"],
        [390, "dark"],
      ] as const) {
        await page.setViewportSize({ width, height });
        await page.emulateMedia({ colorScheme });
        await take(page, `${demoName(name)}-${width}-${colorScheme}`);
      }
    }
    await page.close();
  } finally {
    demo.kill("SIGTERM");
  }
}

/** All of a part on few sheets: light at four widths, dark at two, paper. */
async function sheets(browser: Browser): Promise<void> {
  const mark = `${words.join("-") || "all"}-${part}`;
  const names = own.map(({ name }) => name);
  const shrunk = { 1280: 660, 820: 423, 390: 240, 320: 197 } as const;
  const picture = (name: string, width: keyof typeof shrunk, scheme: string) => ({
    file: pathOf(`${name}-${width}-${scheme}`),
    words: `${name} ${width} ${scheme}`,
    widthPx: shrunk[width],
  });
  for (const [at, some] of piecesOf(names, 2).entries())
    await contactSheet(
      browser,
      pathOf(`sheet-${mark}-light-${at + 1}`),
      some.map((name) => ([1280, 820, 390, 320] as const).map((width) => picture(name, width, "light"))),
    );
  for (const [at, some] of piecesOf(names, 4).entries())
    await contactSheet(
      browser,
      pathOf(`sheet-${mark}-dark-${at + 1}`),
      piecesOf(some, 2).map((row) =>
        row.flatMap((name) => [picture(name, 820, "dark"), picture(name, 390, "dark")]),
      ),
    );
  const onSheet = (name: string) => ({ file: pathOf(`${name}-paper`), words: `${name} paper`, widthPx: 500 });
  for (const [at, some] of piecesOf(names, 6).entries())
    await contactSheet(browser, pathOf(`sheet-${mark}-paper-${at + 1}`), piecesOf(some.map(onSheet), 3));
  const demo = demoPages.map((name) => [
    picture(demoName(name), 1280, "light"),
    picture(demoName(name), 390, "dark"),
  ]);
  for (const [at, some] of piecesOf(demo, 3).entries())
    if (isDemoWanted) await contactSheet(browser, pathOf(`sheet-demo-${at + 1}`), piecesOf(some.flat(), 3));
}

const isDemoWanted = isWanted("demo") && part === parts;
if (words.length === 0 && parts === 1) rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const browser = await startChromium();
try {
  if (own.length > 0) await ofScenes(browser);
  if (isDemoWanted) await ofDemo(browser);
  await sheets(browser);
} finally {
  await browser.close();
}
console.log(`screenshots: ${own.length} of ${wanted.length} scenes, in ${folder}`);
