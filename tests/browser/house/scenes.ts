import type { Page } from "playwright-core";
import type { Fixture, startFixtureServer } from "../fixture-server.ts";
import { inState, type State } from "./states.ts";

/** One page in one state, with what is opened on it. */
export interface Scene {
  readonly name: string;
  readonly state: State;
  /** The address after its #. */
  readonly hash: string;
  /** What stands once the page does. */
  readonly ready: string;
  /** Opens a form, a sheet, what is folded. */
  readonly open?: (page: Page) => Promise<unknown>;
}

/** Every page, by its address, and what stands on it once it is there. */
const pages = {
  line: ["", ".drum, .first-steps, .next-step, .line"],
  nights: ["nights", ".firsts li, .sheet"],
  trend: ["trend", ".tcharts .ln"],
  compare: ["compare", ".tcharts .env, .at-fills"],
  alarms: ["alarms", ".log li"],
  nodes: ["nodes", ".node"],
  messages: ["messages", ".destination"],
  more: ["more", ".ways li"],
  people: ["people", ".person"],
  "line-file": ["line-file", ".line-key"],
  point: ["points/after-resin", ".now-card"],
  supply: ["points/supply", ".now-card"],
  drum: ["drums/mix", ".drum-now"],
  wall: ["wall", ".board .d"],
  seen: ["seen?token=abc", ".card, .sheet"],
  "draw-picture": ["draw/picture", ".draw-step .choice"],
  "draw-parts": ["draw/parts", ".drawn li"],
  "draw-nodes": ["draw/nodes", ".draw-step"],
  "draw-places": ["draw/places", ".drawn li"],
  "draw-file": ["draw/file", ".draw-step .cmd"],
  "sign-in": ["", ".door"],
  "set-up": ["set-up", ".door"],
} as const;
type PageName = keyof typeof pages;

const every = (Object.keys(pages) as PageName[]).filter((name) => name !== "sign-in" && name !== "set-up");
/** Pages that look otherwise in a state. */
const inStates: Readonly<Record<Exclude<State, "calm">, readonly PageName[]>> = {
  trouble: ["line", "alarms", "point", "drum", "wall", "trend", "seen", "more"],
  flood: ["line", "alarms", "drum", "wall", "nights"],
  stale: ["line", "nodes", "point", "drum", "wall"],
  lost: ["line", "alarms", "point", "drum", "wall", "trend", "nights", "messages"],
  empty: ["line", "nights", "alarms", "nodes", "people", "wall", "trend"],
  first: ["line", "nodes", "point", "drum", "wall"],
  door: ["sign-in"],
  new: ["set-up", "line", "draw-parts"],
  nine: ["line"],
  apart: ["line"],
  long: ["line", "alarms", "point", "drum", "wall", "trend", "more"],
};

const button = (name: string | RegExp) => (page: Page) => page.getByRole("button", { name }).first().click();
/** Opens what a drum of the Line offers: on a phone its menu first. */
const drumSheet = (drum: string, name: RegExp) => async (page: Page) => {
  const card = page.locator(`.drum[data-drum=${drum}]`);
  const menu = card.locator(".sheetbtn");
  if (await menu.isVisible()) {
    await menu.click();
    await page.getByRole("dialog").getByRole("button", { name }).click();
  } else await card.getByRole("button", { name }).click();
  await page.getByRole("dialog").waitFor();
};

const drawnPart = (name: RegExp) => (page: Page) =>
  page.locator(".drawn").getByRole("button", { name }).click();

/** Forms and sheets, each open. */
const forms: readonly (readonly [name: string, page: PageName, state: State, open: Scene["open"]])[] = [
  [
    "release",
    "line",
    "trouble",
    async (page) => {
      await drumSheet("mix", /^Release this water/)(page);
      await page.getByRole("button", { name: "I tested it" }).click();
    },
  ],
  ["float-test", "line", "calm", drumSheet("fresh", /^Test a float/)],
  [
    "batch",
    "line",
    "calm",
    async (page) => {
      await drumSheet("mix", /^Batch/)(page);
      await page.getByRole("dialog").locator(".chip").first().click();
    },
  ],
  ["chlorine", "line", "calm", drumSheet("fresh", /chlorine/i)],
  [
    "silence",
    "alarms",
    "trouble",
    async (page) => {
      for (const name of ["Silence…", "Switch off…", "Reset…"]) await page.getByText(name).first().click();
    },
  ],
  ["channels", "trend", "calm", button("Add or take away…")],
  ["times", "trend", "calm", button("Choose dates…")],
  ["person", "people", "calm", button(/^Change…: Mara/)],
  [
    "password",
    "people",
    "calm",
    async (page) => {
      await button(/^Change…: Mara/)(page);
      for (const name of ["Remove…", "New password…"]) await page.getByRole("dialog").getByText(name).click();
    },
  ],
  ["device", "messages", "calm", (page) => page.locator(".device-form summary").click()],
  ["part-point", "draw-parts", "calm", drawnPart(/^After resin/)],
  ["part-stage", "draw-parts", "calm", drawnPart(/^Resin/)],
  ["part-drum", "draw-parts", "calm", drawnPart(/^Fresh drum/)],
  ["hand", "draw-places", "calm", button(/press\/ec-2/)],
  [
    "replace",
    "draw-places",
    "calm",
    async (page) => {
      await button(/press\/ec-2/)(page);
      await page
        .locator(".slots")
        .getByRole("button", { name: /press\/ec-1/ })
        .click();
      await page.getByText("press/ec-2 takes its place").waitFor();
    },
  ],
  ["keys", "line-file", "calm", (page) => page.locator(".keys summary").first().click()],
  [
    "not-watched",
    "line",
    "calm",
    async (page) => {
      const card = page.locator(".drum[data-drum=fresh]");
      if (await card.locator(".sheetbtn").isVisible()) await card.locator(".sheetbtn").click();
      else await card.locator("details.not summary").click();
    },
  ],
  ["refused", "nodes", "calm", (page) => page.locator(".node details summary").first().click()],
];

const scene = (name: string, page: PageName, state: State, open?: Scene["open"]): Scene => {
  const [hash, ready] = pages[page];
  // What a lost page shows could not be loaded; on an empty one there is nothing to wait for.
  const there =
    state === "lost" ? "main.old" : state === "empty" ? "footer, .board" : `${ready}, .board .crit`;
  return { name, state, hash, ready: there, ...(open ? { open } : {}) };
};

/** Every page and state, and every form. */
export const scenes: readonly Scene[] = [
  ...every.map((page) => scene(`${page}-calm`, page, "calm")),
  ...(Object.entries(inStates) as [State, readonly PageName[]][]).flatMap(([state, some]) =>
    some.map((page) => scene(`${page}-${state}`, page, state)),
  ),
  ...forms.map(([name, page, state, open]) => scene(`form-${name}`, page, state, open)),
];

/** Scenes in groups, by state; forms are a group of their own. */
export const groups: readonly (readonly [name: string, scenes: readonly Scene[]])[] = [
  ...Map.groupBy(scenes, ({ state, open }) => (open ? "forms" : state)),
];

/** Shows scenes one after another on one page: the page is loaded anew only where the state changes. */
export function showScenes(
  page: Page,
  fixture: Fixture,
  server: Awaited<ReturnType<typeof startFixtureServer>>,
) {
  let shown: State | null = null;
  return async ({ state, hash, ready, open }: Scene): Promise<void> => {
    if (shown !== state) {
      Object.assign(fixture, inState(state));
      await page.goto("about:blank");
      await page.goto(`http://127.0.0.1:${server.port}/#${hash}`);
      await page.locator("footer, .board, .door").first().waitFor();
      if (state === "lost") {
        Object.assign(fixture, { refuse: true, answers: new Map(), series: undefined });
        server.cut();
        await page.locator("main.old").waitFor();
      }
    }
    // What stood before must not be taken for what is asked for.
    else
      await page.evaluate(`new Promise((resolve) => {
        const before = location.hash;
        addEventListener("hashchange", () => setTimeout(resolve), { once: true });
        location.hash = ${JSON.stringify(hash)};
        if (location.hash === before) resolve();
      })`);
    shown = open ? null : state;
    await page.locator(ready).first().waitFor({ state: "attached" });
    await open?.(page);
  };
}
