import { type Browser, type BrowserContext, chromium } from "playwright-core";

/** A limit for what hangs; a busy machine needs half a minute for what takes a second on a calm one. */
const patienceMs = 60_000;
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
export async function startChromiumOf(profile: string): Promise<BrowserContext> {
  const context = await chromium.launchPersistentContext(profile, {
    ...how,
    locale: "en-GB",
    reducedMotion: "reduce",
  });
  context.setDefaultTimeout(patienceMs);
  return context;
}

/** The system's Chromium, which speaks to nobody by itself. */
export async function startChromium(): Promise<Browser> {
  const browser = await chromium.launch(how);
  const [newPage, newContext] = [browser.newPage.bind(browser), browser.newContext.bind(browser)];
  browser.newPage = async (options) => {
    const page = await newPage({ locale: "en-GB", ...options });
    page.setDefaultTimeout(patienceMs);
    return page;
  };
  browser.newContext = async (options) => {
    const context = await newContext(options);
    context.setDefaultTimeout(patienceMs);
    return context;
  };
  return browser;
}
