import type { Browser } from "playwright-core";
import { type Fixture, goodDrum, goodPoint, startFixtureServer } from "./fixture-server.ts";

/** A gateway that answers with one good point and one good drum, and a page of a phone before it. */
export async function phonePage(browser: Browser) {
  const fixture: Fixture = {
    now: () => Date.now(),
    points: (nowMs) => [goodPoint(nowMs)],
    drums: (nowMs) => [goodDrum(nowMs)],
    alarms: [],
    buckets: null,
    refuse: false,
  };
  const server = await startFixtureServer(fixture);
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  return { fixture, server, page };
}
