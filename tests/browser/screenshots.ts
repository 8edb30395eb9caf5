// `npm run screenshots`: every page of the demo at four widths, light and dark, and of a lost page, into .screenshots/.
import { spawn } from "node:child_process";
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { startChromium } from "./chromium.ts";

const main = fileURLToPath(new URL("../../gateway/src/main.ts", import.meta.url));
const folder = fileURLToPath(new URL("../../.screenshots/", import.meta.url));
const widths = [1280, 820, 390, 320] as const;
const pages = [
  "line",
  "trend",
  "alarms",
  "nodes",
  "more",
  "points/after-resin",
  "drums/mix",
  "wall",
  "nights",
  "messages",
  "people",
  "line-file",
  "draw/picture",
  "draw/parts",
  "draw/nodes",
  "draw/places",
  "draw/file",
] as const;
const onPaper = ["line", "trend", "nights", "alarms"] as const;

mkdirSync(folder, { recursive: true });
const demo = spawn(process.execPath, [main, "demo", "--http", "127.0.0.1:0", "--mqtt", "127.0.0.1:0"], {
  stdio: ["ignore", "pipe", "inherit"],
});
const url = await new Promise<string>((resolve, reject) => {
  let text = "";
  demo.stdout.on("data", (chunk: Buffer) => {
    text += chunk.toString();
    const found = /page: (http:\S+)/.exec(text)?.[1];
    if (found) resolve(found);
  });
  demo.on("close", () => reject(new Error(`the demo ended: ${text}`)));
});
const browser = await startChromium();
try {
  for (const colorScheme of ["light", "dark"] as const)
    for (const width of widths) {
      const page = await browser.newPage({ viewport: { width, height: 844 }, colorScheme });
      await page.goto(url);
      await page.locator(".drum").first().waitFor();
      for (const name of pages) {
        await page.goto(`${url}#${name === "line" ? "" : name}`);
        await page.locator("h1").waitFor();
        if (name === "trend") await page.locator(".tcharts .ln").first().waitFor({ state: "attached" });
        if (name === "line") await page.locator(".spark .l").first().waitFor({ state: "attached" });
        await page.locator("main > :nth-child(2)").first().waitFor();
        const file = `${name.replaceAll("/", "-")}-${width}-${colorScheme}.png`;
        await page.screenshot({ path: `${folder}${file}`, fullPage: true });
      }
      await page.close();
    }
  const page = await browser.newPage({ viewport: { width: 390, height: 844 }, colorScheme: "dark" });
  await page.goto(url);
  await page.locator(".drum").first().waitFor();
  for (const name of onPaper) {
    await page.goto(`${url}#${name === "line" ? "" : name}`);
    await page.locator("main > :nth-child(2)").first().waitFor();
    await page.pdf({ path: `${folder}${name}-print.pdf`, format: "A4" });
  }
  await page.goto(url);
  await page.locator(".drum").first().waitFor();
  demo.kill("SIGSTOP");
  await page.locator("main.old").waitFor({ timeout: 25_000 });
  await page.screenshot({ path: `${folder}line-390-lost.png`, fullPage: true });
  demo.kill("SIGCONT");
} finally {
  await browser.close();
  demo.kill("SIGTERM");
}
console.log(`screenshots: ${folder}`);
