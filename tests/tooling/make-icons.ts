// Draws the page's icons from `icon.svg`, by the system's Chromium: node_modules/.bin/node tests/tooling/make-icons.ts
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { startChromium } from "../browser/chromium.ts";

const folder = fileURLToPath(new URL("../../monitor-ui/public/", import.meta.url));
const svg = readFileSync(`${folder}icon.svg`, "utf8");
const browser = await startChromium();
for (const size of [180, 192, 512]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(
    `<body style="margin:0">${svg.replace("<svg", `<svg style="display:block" width="${size}" height="${size}"`)}`,
  );
  await page.screenshot({ path: `${folder}icon-${size}.png` });
  await page.close();
}
await browser.close();
