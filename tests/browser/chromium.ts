import { type Browser, type BrowserContext, chromium } from "playwright-core";

const how = {
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
};

/** The same with a profile of its own, whose settings are somebody's: how large texts are, for example. */
export const startChromiumOf = (profile: string): Promise<BrowserContext> =>
  chromium.launchPersistentContext(profile, { ...how, locale: "en-GB", reducedMotion: "reduce" });

/** The system's Chromium, which speaks to nobody by itself. */
export async function startChromium(): Promise<Browser> {
  const browser = await chromium.launch(how);
  const newPage = browser.newPage.bind(browser);
  browser.newPage = (options) => newPage({ locale: "en-GB", ...options });
  return browser;
}
