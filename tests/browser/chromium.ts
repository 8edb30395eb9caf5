import { type Browser, chromium } from "playwright-core";

/** The system's Chromium, which speaks to nobody by itself. */
export async function startChromium(): Promise<Browser> {
  const browser = await chromium.launch({
    executablePath: process.env.DRUMLIN_CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
  const newPage = browser.newPage.bind(browser);
  browser.newPage = (options) => newPage({ locale: "en-GB", ...options });
  return browser;
}
