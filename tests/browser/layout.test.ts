import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { startChromium } from "./chromium.ts";
import { type Fixture, startFixtureServer } from "./fixture-server.ts";
import { faultsOfLayout } from "./geometry.ts";
import { groups, scenes, showScenes } from "./house/scenes.ts";
import { inState } from "./house/states.ts";

let browser: Browser;
let page: Page;
let fixture: Fixture;
let show: ReturnType<typeof showScenes>;
let server: Awaited<ReturnType<typeof startFixtureServer>>;

beforeAll(async () => {
  fixture = inState("calm");
  server = await startFixtureServer(fixture);
  browser = await startChromium();
  page = await browser.newPage({ viewport: { width: 1280, height: 844 }, reducedMotion: "reduce" });
  show = showScenes(page, fixture, server);
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

const widths = [1280, 820, 390, 320] as const;

describe("on every page, at 1280, 820, 390 and 320 px, nothing is wider, cut, hidden or on something else", () => {
  it.each(groups)("%s", async (state, some) => {
    const found: string[] = [];
    for (const scene of some) {
      await page.setViewportSize({ width: 1280, height: 844 });
      await show(scene);
      for (const width of widths) {
        await page.setViewportSize({ width, height: 844 });
        const faults = await faultsOfLayout(page, { mayShorten: state === "long", focusToo: width === 390 });
        found.push(...faults.map((fault) => `${scene.name} ${width}: ${fault}`));
      }
    }
    expect(found).toEqual([]);
  });
});

describe("with times of twelve hours, on a phone", () => {
  it("nothing lies on something else on any page of a calm house", async () => {
    const american = await browser.newPage({ reducedMotion: "reduce", locale: "en-US" });
    const showAmerican = showScenes(american, fixture, server);
    const found: string[] = [];
    for (const scene of groups.find(([state]) => state === "calm")?.[1] ?? []) {
      await showAmerican(scene);
      for (const width of [390, 320]) {
        await american.setViewportSize({ width, height: 844 });
        const faults = await faultsOfLayout(american, { mayShorten: false, focusToo: false });
        found.push(...faults.map((fault) => `${scene.name} ${width}: ${fault}`));
      }
    }
    await american.close();
    expect(found).toEqual([]);
  });
});

const open = async (name: string, width: number) => {
  await page.setViewportSize({ width, height: 844 });
  const scene = scenes.find((one) => one.name === name);
  if (!scene) throw new Error("no such scene");
  await show(scene);
};
const boxOf = async (what: string) => {
  const box = await page.locator(what).first().boundingBox();
  if (!box) throw new Error(`${what} is not shown`);
  return box;
};
/** Of each element that a selector finds, what an expression of `one` is. */
const ofAll = (what: string, expression: string) =>
  page.evaluate<unknown[]>(
    `[...document.querySelectorAll(${JSON.stringify(what)})].map((one) => ${expression})`,
  );
const topOf = async (what: string) => (await boxOf(what)).y;
/** How far below another something begins, px. */
const below = async (what: string, other: string) => (await topOf(what)) - (await topOf(other));
/** How far over another something ends, px. */
const endsOver = async (what: string, other: string) => {
  const { y, height } = await boxOf(what);
  return (await topOf(other)) - y - height;
};

describe("what must be seen without scrolling, and stand beside one another where there is room", () => {
  it("cards beside one another begin at one height, and below one another no two stand farther apart", async () => {
    for (const [name, count] of [
      ["point-calm", 2],
      ["drum-calm", 3],
    ] as const) {
      await open(name, 1280);
      const tops = () => ofAll(".cols > .sheet", "one.getBoundingClientRect().top");
      await expect.poll(async () => (await tops()).length).toBe(count);
      expect(new Set(await tops()).size).toBe(1);
    }
    await page.setViewportSize({ width: 820, height: 844 });
    const gaps = await ofAll(
      ".cols > .sheet + .sheet",
      "one.getBoundingClientRect().top - one.previousElementSibling.getBoundingClientRect().bottom",
    );
    expect(gaps).toEqual([24, 24]);
  });

  it("the wall shows what comes in, what fills a drum and what is judged, before a point that neither does", async () => {
    await open("wall-calm", 1280);
    await expect
      .poll(() => ofAll(".wp .k", "one.textContent"))
      .toEqual(["Supply", "After carbon", "After resin"]);
  });

  it("a unit and who works on what are said as a screen writes them, not as they are typed", async () => {
    await open("point-calm", 1280);
    await page.getByText("8 µS/cm → 5 µS/cm").first().waitFor();
    await open("line-trouble", 1280);
    await page.getByText(/^Button by-the-resin worked on Resin until /).waitFor();
  });

  it("three drums leave the line on a phone's first screen", async () => {
    await open("line-calm", 390);
    await expect.poll(() => page.locator(".drum").count()).toBe(3);
    // Down to the point that is judged.
    await expect.poll(() => below(".cell[data-point=after-resin]", ".nav")).toBeLessThan(-40);
  });

  it("in trouble too: who works is one line until it is opened, and what else stands is near the drums", async () => {
    await open("line-trouble", 390);
    await expect.poll(async () => (await boxOf(".work-bar")).height).toBeLessThan(60);
    await expect.poll(() => endsOver(".cell[data-point=after-resin]", ".nav")).toBeGreaterThan(0);
    await expect.poll(() => endsOver(".drum[data-drum=fresh] .word", ".nav")).toBeGreaterThan(0);
    await page.getByRole("button", { name: /^Work: Fresh drum until/ }).click();
    await expect
      .poll(() => page.locator(".work-bar .btn", { hasText: "Done" }).first().isVisible())
      .toBe(true);
    await page.getByRole("button", { name: /^Work: / }).click();
  });

  it("while an alarm fills a phone's screen, the word of each drum and the water after the resin stand over it", async () => {
    await open("line-flood", 390);
    await expect
      .poll(() => page.locator(".strip a").allTextContents())
      .toEqual(["Freshhold206\u00a0L", "Mixuse186\u00a0L", "Top-upuse45\u00a0L", "After resin0.62µS/cm"]);
    await expect.poll(() => endsOver(".strip a:last-child", ".crit")).toBeGreaterThanOrEqual(0);
  });

  it("without contact the time stands once, in the bar; a drum that was silent before says its own", async () => {
    await open("line-lost", 390);
    await expect
      .poll(() => page.locator(".drum .why").allTextContents())
      .toEqual(["It was “use”", "It was “use”", "It was “use”"]);
    await open("line-stale", 390);
    await expect.poll(() => page.locator(".drum .why").first().textContent()).toContain("last heard");
  });

  it("names that begin alike are cut in their middle, not at their end", async () => {
    await open("trend-long", 320);
    const cut = () =>
      ofAll(
        ".strip .short > :last-child",
        "one.getBoundingClientRect().right <= one.closest('a').getBoundingClientRect().right",
      );
    await expect.poll(cut).toEqual([true, true, true]);
    await expect
      .poll(() => page.locator(".strip .short > :last-child").allTextContents())
      .toEqual(["1", "2", "3"]);
  });

  it("a title has no ring when a key opened its page, also one whose code comes then; what a key can press has", async () => {
    await open("more-calm", 1280);
    await page.reload();
    await page.locator(".ways a").first().focus();
    await page.keyboard.press("Tab");
    const ring = () => page.evaluate("getComputedStyle(document.activeElement).outlineStyle");
    await expect.poll(ring).toBe("solid");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.evaluate("document.activeElement.tagName")).toBe("H1");
    await expect.poll(ring).toBe("none");
  });

  it("on a desk this device's look and sound stand beside one another; on a phone how a fill ended has the width", async () => {
    await open("more-calm", 1280);
    await expect.poll(() => below(".beside > .sound-test", ".beside > .seg")).toBe(0);
    await open("compare-calm", 320);
    await expect.poll(async () => (await boxOf(".ends-of-fills td:last-child")).width).toBeGreaterThan(250);
  });

  it("on a tablet three drums' words have columns of one width; the whole name stands there alone", async () => {
    await open("line-calm", 820);
    const texts = (side: string) => ofAll(".drum .txt", `Math.round(one.getBoundingClientRect().${side})`);
    await expect.poll(() => texts("width")).toEqual([247, 247, 247]);
    await expect.poll(async () => new Set(await texts("top")).size).toBe(1);
    await expect
      .poll(() => page.locator(".vname:visible").allTextContents())
      .toEqual(["Fresh", "Mix", "Top-up"]);
  });

  it("a screen on its side shows three drums under one another, their words large, on one screen", async () => {
    await open("wall-trouble", 820);
    await expect
      .poll(() => ofAll(".board .dw", "Math.round(parseFloat(getComputedStyle(one).fontSize))"))
      .toEqual([93, 93, 74]);
    await expect.poll(() => page.evaluate("document.documentElement.scrollHeight")).toBe(844);
  });

  it("fills that are compared are drawn on a phone's first screen; what is compared is chosen behind one line", async () => {
    await open("compare-calm", 320);
    const plotEnds = async () => {
      const plot = await boxOf(".tcharts .plot");
      return plot.y + plot.height - (await topOf(".nav"));
    };
    await expect.poll(plotEnds).toBeLessThan(0);
    await page.locator(".pick summary").click();
    await expect.poll(() => page.getByRole("button", { name: /^Mix drum/ }).isVisible()).toBe(true);
  });

  it("a form alone on its card has its fields in one row", async () => {
    await open("people-calm", 1280);
    const tops = async () => {
      const all = await ofAll(
        ".form:first-of-type :is(input, select)",
        "Math.round(one.getBoundingClientRect().top)",
      );
      return [all.length >= 3, new Set(all.slice(0, 3)).size];
    };
    await expect.poll(tops).toEqual([true, 1]);
  });

  it("a phone that is turned and turned back shows the nights that it showed, and one that was chosen meanwhile", async () => {
    await open("nights-calm", 390);
    const turn = (width: number) => page.setViewportSize({ width, height: 844 });
    const scrolledTo = () => page.evaluate<number>("document.querySelector('.nwrap').scrollLeft");
    const room = () =>
      page.evaluate<number>(
        "(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)(document.querySelector('.nwrap'))",
      );
    await expect.poll(scrolledTo).toBeGreaterThan(100);
    await page.evaluate("document.querySelector('.nwrap').scrollTo({ left: 60 })");
    await expect.poll(scrolledTo).toBe(60);
    // Turned before the page has heard of a scroll, it can't know of it.
    await page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))");
    await turn(1280);
    await expect.poll(room).toBeLessThan(10);
    await turn(390);
    await expect.poll(scrolledTo).toBe(60);
    await turn(1280);
    await expect.poll(room).toBeLessThan(10);
    await page.locator(".ncol").first().click();
    await page.locator(".ncol").first().and(page.locator("[aria-current]")).waitFor();
    await turn(390);
    await expect.poll(scrolledTo).toBe(0);
  });

  it("a node's channels say what they said last", async () => {
    await open("nodes-calm", 820);
    await expect
      .poll(() => page.locator(".channels li").allTextContents())
      .toEqual([
        "ec-1Supply, conductivity350\u00a0µS/cm",
        "t-1Supply, temperature18.0\u00a0°C",
        "flow-1Behind carbon, flow2.59\u00a0L/min",
        "p-1Supply, pressure3.10\u00a0bar",
        "drainResin, water to the drain1.50\u00a0L/min",
        "pumpbooster, pumprunning",
        "level-1Fresh drum, level130\u00a0L",
        "float-2Mix drum, stop floatdry",
        "valveMix drum, inlet valvewas shut",
      ]);
  });

  it("one further step of what must be done now has no number", async () => {
    await open("line-flood", 820);
    await expect.poll(() => page.locator(".crit ol").count()).toBe(0);
    await expect.poll(() => page.locator(".crit .next").textContent()).toMatch(/^Stay clear of wet sockets/);
  });
});
