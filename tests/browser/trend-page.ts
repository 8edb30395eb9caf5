import type { Page } from "playwright-core";
import { atRest } from "./at-rest.ts";
import { startChromium } from "./chromium.ts";
import { startFixtureServer } from "./fixture-server.ts";
import { fixture } from "./spike-fixture.ts";

/** Begin and end that stand in Trend's link, s. */
export const linkOf = (of: Page) =>
  [Number(/from=(\d+)/.exec(of.url())?.[1]), Number(/to=(\d+)/.exec(of.url())?.[1])] as const;
/** How long the stretch in the link is, s. */
export const spanS = (of: Page) => linkOf(of)[1] - linkOf(of)[0];
/** Hours that stand in the link. */
export const hoursIn = (of: Page) => Number(/hours=([\d.]+)/.exec(of.url())?.[1]);

/** The page Trend over the fixture with a spike. */
export async function openTrend() {
  const server = await startFixtureServer(fixture);
  const browser = await startChromium();
  const page = await browser.newPage({ viewport: { width: 1000, height: 900 } });
  return {
    server,
    browser,
    page,
    async show(parameters: string): Promise<void> {
      await page.goto("about:blank");
      await page.goto(`http://127.0.0.1:${server.port}/#trend?${parameters}`);
      await page.locator(".tcharts .ln").first().waitFor({ state: "attached" });
      await atRest(page, server);
    },
    /** Begin and end of the last series that was asked for, as they were asked. */
    asked() {
      // The strip under the charts asks for fewer.
      const last = server.asked.findLast((line) => line.includes("/series") && line.includes("buckets=600"));
      return [Number(/from=(\d+)/.exec(last ?? "")?.[1]), Number(/to=(\d+)/.exec(last ?? "")?.[1])] as const;
    },
    async close(): Promise<void> {
      await browser.close();
      await server.stop();
    },
  };
}
