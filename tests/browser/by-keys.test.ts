import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, standingAlarm, startFixtureServer } from "./fixture-server.ts";
import { inState } from "./house/states.ts";
import { dailyPaths } from "./key-acts.ts";
import { pathsAtOnce } from "./key-acts-at-once.ts";
import { type Path, reach } from "./key-path.ts";

let browser: Browser;
let page: Page;
let fixture: Fixture;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

beforeAll(async () => {
  fixture = inState("calm");
  server = await startFixtureServer(fixture);
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 1280, height: 844 }, reducedMotion: "reduce" });
  // Everything that is said to whoever hears the page, each time that it changes.
  await page.addInitScript(`
    globalThis.said = [];
    const before = new Map();
    new MutationObserver(() => {
      for (const region of document.querySelectorAll("[role=status], [role=alert], [aria-live]")) {
        const text = region.textContent.trim();
        if (before.get(region) === text) continue;
        before.set(region, text);
        if (text !== "") globalThis.said.push(text);
      }
    }).observe(document, { childList: true, subtree: true, characterData: true });`);
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

const enter = { press: "Enter" } as const;
/** What was done so far is taken back, each within its time, by keys too. */
const backPaths: readonly Path[] = [
  {
    act: "take a release back",
    at: "drums/mix",
    otherwise: () => ({
      drums: (nowMs) =>
        inState("calm")
          .drums(nowMs)
          .map((drum) => ({
            ...drum,
            water: {
              ...drum.water,
              release: {
                by: "Mara",
                how: "hand-test",
                at: new Date(nowMs - 120_000).toISOString(),
                note: null,
                value25: 4,
              },
            },
          })),
    }),
    steps: [/^Undo the release: Mix drum/, enter],
    sent: "POST /api/drums/mix/release/undo",
    says: /^Judged again as before\.$/,
  },
  {
    act: "take a limit back",
    at: "points/after-resin",
    steps: [
      /^New limit/,
      { type: "4" },
      enter,
      {
        async meanwhile() {
          await page.getByText("Limit saved.").waitFor();
          const point = inState("calm")
            .points(Date.now())
            .find(({ id }) => id === "after-resin");
          if (point) server.tell({ event: "point", data: { ...point, limit: 4 } });
          await page.getByRole("button", { name: /^Undo: back to 5/ }).waitFor();
        },
      },
      /^Undo: back to 5/,
      enter,
    ],
    sent: "POST /api/line/limits,POST /api/line/limits",
    says: /^The limit is 5 again\.$/,
  },
  {
    act: "take a calibration back",
    at: "points/after-resin",
    steps: [/^Go back to the previous one: After resin/, enter],
    sent: "POST /api/calibrations",
    says: /^The previous one applies again\.$/,
  },
  {
    act: "end a silence",
    state: "trouble",
    at: "alarms",
    steps: [/^End the silence: Fresh drum/, enter],
    sent: "/unshelve",
    says: /^It can ring again\.$/,
  },
  {
    act: "switch on again",
    at: "alarms",
    otherwise: () => ({ alarms: [standingAlarm("out-of-service", Date.now() - 60_000)] }),
    steps: [/^Switch on again: After resin/, enter],
    sent: "/in-service",
    says: /^Switched on\.$/,
  },
  {
    act: "take a step of the drawing back",
    at: "draw/places",
    answers: { "POST /api/nodes/press/assign": { version: "1" } },
    steps: [/^press\/ec-2/, enter, /: After resin$/, enter, /^Undo: /, enter],
    sent: "POST /api/nodes/press/assign,POST /api/line/file",
    says: /^Undone: /,
  },
];

async function walk(path: Path): Promise<void> {
  const { state = "calm", at, steps, still = false, otherwise, answers = {} } = path;
  const shown = { ...inState(state), ...otherwise?.() };
  const points: Fixture["points"] = (nowMs) =>
    shown.points(nowMs).map((point) => ({ ...point, run: { ...point.run, flowing: !still } }));
  Object.assign(fixture, shown, { points });
  fixture.answers = new Map([
    ...(shown.answers ?? []),
    ["/api/line/file", { yaml: "", version: "1", faults: [] }],
    ...Object.entries(answers),
  ]);
  await page.goto("about:blank");
  await page.goto(`http://127.0.0.1:${server.port}/#${at}`);
  await page.locator("footer").waitFor();
  for (const [place, step] of steps.entries()) {
    // The last act's own place: its card, its row, its form.
    if (place === steps.length - 1)
      await page.evaluate(
        `globalThis.place = document.activeElement.closest("dialog, article, form, section, li, .draw-step")`,
      );
    if (step instanceof RegExp) await reach(page, step);
    else if ("type" in step) {
      await page.keyboard.press("ControlOrMeta+A");
      await page.keyboard.type(step.type);
    } else if ("press" in step) await page.keyboard.press(step.press);
    else await step.meanwhile();
  }
}

describe("by keys alone", () => {
  it.each([...pathsAtOnce, ...dailyPaths, ...backPaths])("$act", async (path) => {
    const before = server.asked.length;
    await walk(path);
    await expect
      .poll(() =>
        server.asked
          .slice(before)
          .filter((one) => one.startsWith("POST"))
          .join(),
      )
      .toContain(path.sent);
    // The answer is said, once, and focus stays where the act was: not on the page as a whole.
    const { says } = path;
    const said = async () =>
      (await page.evaluate<string[]>("globalThis.said")).filter((text) => says?.test(text));
    if (says)
      await expect.poll(() => page.evaluate("globalThis.said")).toContainEqual(expect.stringMatching(says));
    // A second voice would have spoken by the next frames.
    await page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))");
    expect(await said()).toHaveLength(says ? 1 : 0);
    // Where the place went with the act, focus goes on to another control.
    const isNear = () =>
      page.evaluate(`(() => {
        const own = document.activeElement;
        if (place?.isConnected && place.checkVisibility()) return place.contains(own);
        return own !== document.body && own.tagName !== "H1";
      })()`);
    await expect.poll(isNear).toBe(true);
  });
});
