import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, startFixtureServer } from "./fixture-server.ts";
import { inState, type State } from "./house/states.ts";

let browser: Browser;
let page: Page;
let fixture: Fixture;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

beforeAll(async () => {
  fixture = inState("calm");
  server = await startFixtureServer(fixture);
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 1280, height: 844 }, reducedMotion: "reduce" });
  page.setDefaultTimeout(20_000);
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

/** What has focus, as whoever hears the page is told of it. */
const focused = () =>
  page.evaluate<string>(`(() => {
    const own = document.activeElement;
    if (!own || own === document.body) return "nothing";
    const label = own.closest("label");
    const words = own.getAttribute("aria-label") ?? (label ? label.textContent : own.textContent);
    return (words ?? "").trim().replace(/\\s+/g, " ");
  })()`);

/** Goes on with Tab until what is wanted has focus. */
async function reach(name: RegExp): Promise<void> {
  const passed: string[] = [];
  for (let times = 0; times < 90; times += 1) {
    const now = await focused();
    if (name.test(now)) return;
    passed.push(now.slice(0, 40));
    await page.keyboard.press("Tab");
  }
  throw new Error(`${name} was not reached; passed: ${passed.join(" | ")}`);
}

type Step = RegExp | { readonly type: string } | { readonly press: string };

interface Path {
  readonly act: string;
  readonly state?: State;
  readonly at: string;
  /** No water runs. */
  readonly still?: boolean;
  readonly steps: readonly Step[];
  /** What is sent. */
  readonly sent: string;
  /** What is said of it, once. */
  readonly says?: RegExp;
}

const enter = { press: "Enter" } as const;
const paths: readonly Path[] = [
  {
    act: "mark as seen",
    state: "trouble",
    at: "alarms",
    steps: [/^Mark as seen: After resin/, enter],
    sent: "POST /api/alarms/resin-breakthrough%3Aafter-resin/acknowledge",
    says: /^Marked as seen\.$/,
  },
  {
    act: "silence",
    state: "trouble",
    at: "alarms",
    steps: [/^Silence…/, enter, /^30 min: After resin/, enter],
    sent: "/shelve",
    says: /^Silent for 30 min/,
  },
  {
    act: "switch off, with a reason",
    state: "trouble",
    at: "alarms",
    steps: [/^Switch off…/, enter, /^Why\?/, { type: "probe is out" }, /^Switch off: /, enter],
    sent: "/out-of-service",
    says: /^Switched off\.$/,
  },
  {
    act: "reset, saying what the float did",
    state: "trouble",
    at: "alarms",
    steps: [/^Reset…/, enter, /^The float failed: /, enter],
    sent: "/reset",
    says: /^Reset\. Test the new one/,
  },
  {
    act: "say that somebody works",
    at: "alarms",
    steps: [/^What/, { press: "ArrowDown" }, /^30 min: working on/, enter],
    sent: "POST /api/work",
    says: /^Paused for 30 min/,
  },
  {
    act: "release water",
    state: "trouble",
    at: "drums/mix",
    steps: [
      /^Release this water/,
      enter,
      /^I tested it/,
      enter,
      /^Conductivity you found/,
      { type: "4" },
      /^Release$/,
      enter,
    ],
    sent: "POST /api/drums/mix/release",
    says: /^Released\.$/,
  },
  {
    act: "begin a float test",
    at: "drums/fresh",
    steps: [/^Test a float/, enter, /^Begin the test/, enter],
    sent: "POST /api/proof-tests",
  },
  {
    act: "enter a chlorine test",
    at: "drums/fresh",
    steps: [/^Chlorine test/, enter, /^Chlorine, mg\/L/, { type: "0.05" }, /^Save/, enter],
    sent: "POST /api/hand-tests",
  },
  {
    act: "set a limit",
    at: "points/after-resin",
    steps: [/^New limit/, { type: "4" }, enter],
    sent: "POST /api/line/limits",
    says: /^Limit saved\./,
  },
  {
    act: "calibrate",
    at: "points/after-resin",
    steps: [/^True conductivity/, { type: "0.63" }, enter],
    still: true,
    sent: "POST /api/calibrations",
    says: /^Calibrated\./,
  },
  {
    act: "write a note on a night",
    at: "nights",
    steps: [/^Note on this night/, { type: "rain" }, /^Save the note/, enter],
    sent: "POST /api/notes",
    says: /^Saved\./,
  },
  {
    act: "change when people are told",
    at: "messages",
    steps: [/^Act now: again every/, { press: "ArrowUp" }, /^Save/, enter],
    sent: "POST /api/notifications/policy",
    says: /^Saved\./,
  },
  {
    act: "send a test message",
    at: "messages",
    steps: [/^Send a test/, enter],
    sent: "/test",
  },
  {
    act: "add somebody",
    at: "people",
    steps: [/^Name/, { type: "Ines" }, /^Password/, { type: "brackish evenings" }, enter],
    sent: "POST /api/people",
    says: /^Ines may sign in\.$/,
  },
  {
    act: "make a node's secret",
    at: "draw/nodes",
    steps: [/^Name of the node/, { type: "shed" }, enter, /^Make a secret for shed/, enter],
    sent: "POST /api/nodes/shed/credentials",
  },
];

async function walk({ state = "calm", at, steps, still = false }: Path): Promise<void> {
  const shown = inState(state);
  const points: Fixture["points"] = (nowMs) =>
    shown.points(nowMs).map((point) => ({ ...point, run: { ...point.run, flowing: !still } }));
  Object.assign(fixture, shown, { points });
  fixture.answers = new Map([
    ...(shown.answers ?? []),
    ["/api/line/file", { yaml: "", version: "1", faults: [] }],
  ]);
  await page.goto("about:blank");
  await page.goto(`http://127.0.0.1:${server.port}/#${at}`);
  await page.locator("footer").waitFor();
  for (const step of steps) {
    if (step instanceof RegExp) await reach(step);
    else if ("type" in step) {
      await page.keyboard.press("ControlOrMeta+A");
      await page.keyboard.type(step.type);
    } else await page.keyboard.press(step.press);
  }
}

describe("by keys alone", { timeout: 60_000 }, () => {
  it.each(paths)("$act", async (path) => {
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
    if (says) await expect.poll(async () => (await said()).length).toBeGreaterThan(0);
    await page.waitForTimeout(100);
    expect((await said()).length).toBe(says ? 1 : 0);
    expect(await focused()).not.toBe("nothing");
  });
});
