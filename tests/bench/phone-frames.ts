import type { LineView, PointView } from "@drumlin/gateway/contract";
import type { CDPSession, Page } from "playwright-core";
import { startChromium } from "../browser/chromium.ts";
import { goodPoint, quantity, startFixtureServer } from "../browser/fixture-server.ts";
import { drums, series } from "../browser/house/line.ts";
import { figure } from "./figures.ts";

const pipes = 5;
const pointsAPipe = 10;
/** Each point is heard twice a second: the page asks for no more (`every=500ms`). */
const everyMs = 500;
const slowdown = 4;
const measuredMs = 5000;

const idOf = (pipe: number, at: number) => `point-${pipe}-${at}`;
const all = Array.from({ length: pipes }, (_, pipe) =>
  Array.from({ length: pointsAPipe }, (_, at) => ({ pipe, at })),
).flat();

const points = (nowMs: number): PointView[] =>
  all.map(({ pipe, at }) => ({
    ...goodPoint(nowMs),
    id: idOf(pipe, at),
    title: `Pipe ${pipe + 1}, point ${at + 1}`,
    conductivity25: quantity(0.6 + Math.random(), "uS/cm", nowMs),
  }));
const stages: LineView["stages"] = all
  .filter(({ at }) => at > 0)
  .map(({ pipe, at }) => ({
    id: `stage-${pipe}-${at}`,
    title: `Filter ${at}`,
    kind: "sediment",
    from: idOf(pipe, at - 1),
    to: idOf(pipe, at),
    removal: null,
  }));

/** Frames of the page's own thread in some seconds, and the longest of them. */
async function framesOf(
  page: Page,
  during: () => Promise<unknown>,
): Promise<{ perS: number; longestMs: number }> {
  await page.evaluate(`globalThis.frames_ = [];
    globalThis.counting = true;
    const count = (at) => { frames_.push(at); if (counting) requestAnimationFrame(count); };
    requestAnimationFrame(count);`);
  await during();
  const times = (await page.evaluate("globalThis.counting = false, globalThis.frames_")) as number[];
  const gaps = times.slice(1).map((at, index) => at - (times[index] ?? at));
  return {
    perS: (1000 * gaps.length) / ((times.at(-1) ?? 0) - (times[0] ?? 0)),
    longestMs: Math.max(...gaps),
  };
}

/** A finger that scrolls down and up again. */
async function scroll(cdp: CDPSession): Promise<void> {
  for (const yDistance of [-2500, 2500])
    await cdp.send("Input.synthesizeScrollGesture", {
      x: 195,
      y: 500,
      yDistance,
      speed: 1200,
      gestureSourceType: "touch",
    });
}

/** Fifty points on a phone whose processor is four times slower: frames a second, at rest and while a finger scrolls. */
export async function phoneFrames(): Promise<void> {
  const server = await startFixtureServer({
    now: () => Date.now(),
    points,
    drums,
    stages,
    alarms: [],
    buckets: null,
    series,
    refuse: false,
  });
  const browser = await startChromium();
  const page = await browser.newPage({ viewport: { width: 390, height: 844 }, hasTouch: true });
  await page.goto(`http://127.0.0.1:${server.port}/`);
  await page.locator(".cell .val b").nth(49).waitFor();
  const cdp = await page.context().newCDPSession(page);
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: slowdown });
  const telling = setInterval(() => {
    for (const data of points(Date.now())) server.tell({ event: "point", data });
  }, everyMs);
  const idle = await framesOf(page, () => page.waitForTimeout(measuredMs));
  const scrolled = await framesOf(page, () => scroll(cdp));
  clearInterval(telling);
  await browser.close();
  await server.stop();
  figure(
    "phoneFramesIdle",
    idle.perS,
    "1/s",
    `50 points, CPU / ${slowdown}, longest ${Math.round(idle.longestMs)} ms`,
  );
  figure(
    "phoneFramesScrolling",
    scrolled.perS,
    "1/s",
    `the same, longest ${Math.round(scrolled.longestMs)} ms`,
  );
}
