import { effect } from "@preact/signals";
import { w } from "../words/words.ts";
import { unseen } from "./alarm-state.ts";
import { alarms, line, lost } from "./state.ts";

/** What a page is called in the tab. */
function nameOf(page: string): string {
  const names: Readonly<Record<string, string>> = {
    "": w.frame.line,
    "line-file": w.lineFile.title,
    "set-up": w.door.firstAccount,
    seen: w.door.seenTitle,
    compare: w.compare.title,
  };
  const own: Readonly<Record<string, unknown>> = w.frame;
  const named = Object.hasOwn(own, page) ? own[page] : undefined;
  return names[page] ?? (typeof named === "string" ? named : page);
}

/** What the tab is called: what calls first, then the page, then the house. */
function titleOfTab(state: {
  readonly page: string;
  readonly house: string;
  readonly unseen: number;
  readonly isCritical: boolean;
  readonly isLost: boolean;
}): string {
  const mark = state.isLost
    ? "(?) "
    : state.isCritical
      ? "(!) "
      : state.unseen > 0
        ? `(${state.unseen}) `
        : "";
  return `${mark}${nameOf(state.page)} · ${state.house}`;
}

/** The icon: a drum; filled red to act now, brown to act soon, dashed where nothing is heard. */
function iconOfTab(state: "calm" | "tell" | "wake" | "lost"): string {
  const fill = { calm: "#8498a0", tell: "#b35600", wake: "#c8102e", lost: "none" }[state];
  const dash = state === "lost" ? " stroke-dasharray='4 3'" : "";
  const sign = state === "wake" ? "<path d='M15 9h2v9h-2zm0 11h2v2h-2z' fill='#fff'/>" : "";
  const svg =
    `<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 32 32'>` +
    `<rect width='32' height='32' rx='6' fill='#f5f6f2'/>` +
    `<path d='M8 14h16v10a3 3 0 0 1-3 3H11a3 3 0 0 1-3-3z' fill='${fill}'/>` +
    `<path d='M7 5v19a4 4 0 0 0 4 4h10a4 4 0 0 0 4-4V5' fill='none' stroke='#1a2123' stroke-width='2.5'${dash}/>${sign}</svg>`;
  return `data:image/svg+xml,${encodeURIComponent(svg)}`;
}

/** What the app's icon shows; it is asked of the browser only where that changes. */
let shownBadge: number | undefined | null = null;

/** Keeps the tab's title and icon by what stands, also while the tab is not looked at. */
export function startTab(route: { readonly value: string }): void {
  effect(() => {
    const loud = alarms.value.filter((alarm) => unseen(alarm) && alarm.state === "unacknowledged");
    const isCritical = loud.some(({ attention }) => attention === "wake");
    const page = route.value.split("/");
    const { points = [], drums = [] } = line.value ?? {};
    const subject = [...points, ...drums].find(({ id }) => id === page[1])?.title;
    document.title = titleOfTab({
      page: subject ?? page[0] ?? "",
      house: line.value?.title ?? "Drumlin",
      unseen: alarms.value.filter(unseen).length,
      isCritical,
      isLost: lost.value,
    });
    const count = alarms.value.filter(unseen).length;
    // The app's icon on the home screen, where the browser has such a thing.
    const badge = lost.value ? undefined : count;
    if (badge !== shownBadge) void navigator.setAppBadge?.(badge).catch(() => {});
    shownBadge = badge;
    const icon = document.querySelector<HTMLLinkElement>("link[rel=icon]");
    const state = lost.value
      ? "lost"
      : isCritical
        ? "wake"
        : loud.some(({ attention }) => attention === "tell")
          ? "tell"
          : "calm";
    const href = iconOfTab(state);
    if (icon && icon.href !== href) icon.href = href;
  });
}
