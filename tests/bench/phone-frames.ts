import type { LineView, PointView } from "@drumlin/gateway/contract";
import type { CDPSession, Page } from "playwright-core";
import { startChromium } from "../browser/chromium.ts";
import { goodPoint, quantity, startFixtureServer } from "../browser/fixture-server.ts";
import { drums, series } from "../browser/house/line.ts";
import { figure } from "./figures.ts";
import { framesLeft, tasksDuring } from "./thread-frames.ts";

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

/** Fifty points on five pipes, water running past each. */
export const manyPoints = (nowMs: number): PointView[] =>
  all.map(({ pipe, at }) => ({
    ...goodPoint(nowMs),
    id: idOf(pipe, at),
    title: `Pipe ${pipe + 1}, point ${at + 1}`,
    conductivity25: quantity(0.6 + Math.random(), "uS/cm", nowMs),
  }));
/** What stands between them. */
export const manyStages: LineView["stages"] = all
  .filter(({ at }) => at > 0)
  .map(({ pipe, at }) => ({
    id: `stage-${pipe}-${at}`,
    title: `Filter ${at}`,
    kind: "sediment",
    from: idOf(pipe, at - 1),
    to: idOf(pipe, at),
    removal: null,
  }));

interface Frames {
  readonly perS: number;
  readonly longestMs: number;
  /** Share of the time in which the page's own thread works, by the processor's time, not slowed down. */
  readonly busy: number;
}

/** Frames of the page's own thread in some seconds. */
async function framesOf(page: Page, cdp: CDPSession, during: () => Promise<unknown>): Promise<Frames> {
  const busyS = async () =>
    (await cdp.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration")?.value ??
    0;
  const before = await busyS();
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
    busy: (1000 * ((await busyS()) - before)) / ((times.at(-1) ?? 0) - (times[0] ?? 0)),
  };
}

/** Scrolls down and up again, a step as often as a finger gives one, for some seconds. */
async function scroll(page: Page): Promise<void> {
  const begunMs = performance.now();
  for (let step = 0; performance.now() - begunMs < measuredMs; step += 1) {
    await page.mouse.wheel(0, step % 160 < 80 ? 20 : -20);
    await page.waitForTimeout(16);
  }
}

/** Fifty points on a phone whose processor is four times slower: frames a second, at rest and while a finger scrolls. */
export async function phoneFrames(): Promise<void> {
  const server = await startFixtureServer({
    now: () => Date.now(),
    points: manyPoints,
    drums,
    stages: manyStages,
    alarms: [],
    buckets: null,
    series,
    refuse: false,
  });
  const browser = await startChromium();
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  await page.goto(`http://127.0.0.1:${server.port}/`);
  await page.locator(".cell .val b").nth(49).waitFor();
  const cdp = await page.context().newCDPSession(page);
  await cdp.send("Performance.enable", { timeDomain: "threadTicks" });
  const telling = setInterval(() => {
    for (const data of manyPoints(Date.now())) server.tell({ event: "point", data });
  }, everyMs);
  await page.mouse.move(195, 400);
  const cpu = [
    await framesOf(page, cdp, () => page.waitForTimeout(measuredMs)),
    await framesOf(page, cdp, () => scroll(page)),
  ];
  // By what the page's own thread takes of the processor: the same whatever else this machine does. At rest only: while
  // somebody scrolls, most of the work is that of frames, which a slower thread simply makes fewer of.
  const tasks = await tasksDuring(browser, () => page.waitForTimeout(measuredMs));
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: slowdown });
  const slow = [
    await framesOf(page, cdp, () => page.waitForTimeout(measuredMs)),
    await framesOf(page, cdp, () => scroll(page)),
  ];
  clearInterval(telling);
  await browser.close();
  await server.stop();
  ["Idle", "Scrolling"].forEach((what, at) => {
    const [own, slowed] = [cpu[at] as Frames, slow[at] as Frames];
    const longest = `longest ${Math.round(slowed.longestMs)} ms`;
    figure(`phonePageBusy${what}`, own.busy, "1", `50 points, at ${Math.round(own.perS)} frames a second`);
    figure(`phoneFrames${what}`, slowed.perS, "1/s", `50 points, CPU / ${slowdown}, ${longest}`);
  });
  const left = framesLeft(tasks, slowdown);
  figure("phoneThreadIdle", left, "1/s", `frames that the page's own thread has time for, CPU / ${slowdown}`);
}
