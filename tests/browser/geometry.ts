import type { Page } from "playwright-core";
import { lastingFaults } from "./at-rest.ts";

/**
 * Faults of the layout that is shown, in words: wider than the page, texts that lie on each other, texts that are cut
 * off or run out of their button, what can't be brought out from under the bars, targets smaller than a thumb's.
 * It runs in the page, so it is one text and knows nothing of this file.
 */
const look = ({ mayShorten, focusToo }: Asked) => `(() => {
  const mayShorten = ${mayShorten};
  const faults = [];
  const wide = document.documentElement.scrollWidth;
  if (wide > innerWidth) faults.push("page is " + wide + " px wide");
  const named = (element) => {
    const words = (element.textContent ?? "").trim().replace(/\\s+/g, " ").slice(0, 50);
    return (element.className?.baseVal ?? element.className ?? element.tagName) + " “" + words + "”";
  };
  const layerOf = (element) => element.closest(".top, .nav, .strip, .undo, .hand, .lbs");
  const isFixed = (element) => layerOf(element) !== null;
  const modal = document.querySelector("dialog[open]");
  const host = modal ?? document.body;
  const seen = (element) =>
    element.checkVisibility({ opacityProperty: true, visibilityProperty: true }) &&
    !element.closest(".vh, .skip");
  const clipsOf = new Map();
  // What cuts or scrolls round an element, from itself outward.
  const clipped = (own) => {
    if (own === null || own === document.documentElement) return [];
    const known = clipsOf.get(own);
    if (known) return known;
    const { overflowX, overflowY, textOverflow } = getComputedStyle(own);
    const outer = clipped(own.parentElement);
    const all = overflowX === "visible" && overflowY === "visible"
      ? outer
      : [{ clip: own.getBoundingClientRect(), canScroll: /auto|scroll/.test(overflowX), isDotted: textOverflow === "ellipsis" }, ...outer];
    clipsOf.set(own, all);
    return all;
  };
  // A text's box without the room over its capitals and under its base line, cut by what scrolls or hides round it.
  const texts = [];
  const walker = document.createTreeWalker(host, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const own = node.parentElement;
    if (!node.textContent.trim() || !own || own.closest("script, style, option, svg, dialog:not([open])") || !seen(own)) continue;
    if (!modal && own.closest("dialog")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const clips = clipped(own);
    for (const rect of range.getClientRects()) {
      if (rect.width < 2 || rect.height < 2) continue;
      const box = { left: rect.left, right: rect.right, top: rect.top + rect.height * 0.16, bottom: rect.bottom - rect.height * 0.16 };
      let isCut = false;
      let canScroll = false;
      let canShorten = false;
      for (const { clip, canScroll: scrolls, isDotted } of clips) {
        if (scrolls) canScroll = true;
        if (isDotted && mayShorten) canShorten = true;
        else if (rect.right > clip.right + 1.5 || rect.left < clip.left - 1.5 || box.bottom > clip.bottom + 1.5) isCut = true;
        box.left = Math.max(box.left, clip.left);
        box.right = Math.min(box.right, clip.right);
        box.top = Math.max(box.top, clip.top);
        box.bottom = Math.min(box.bottom, clip.bottom);
      }
      if (isCut && !canScroll) faults.push("cut off: " + named(own));
      const card = own.closest(".sheet, .node, .acard, .arow, .crit, .drum, dialog, table, .choice, .door form");
      const edge = card?.getBoundingClientRect().right ?? innerWidth;
      if (!canScroll && !canShorten && edge > 0 && rect.right > edge + 1.5) faults.push("runs out of its card: " + named(own));
      if (box.right - box.left > 1 && box.bottom - box.top > 1) texts.push({ node, own, box, layer: layerOf(own) });
    }
  }
  texts.sort((a, b) => a.box.top - b.box.top);
  texts.forEach((a, at) => {
    for (let other = at + 1; other < texts.length; other += 1) {
      const b = texts[other];
      if (b.box.top >= a.box.bottom - 1) break;
      if (a.node === b.node || a.layer !== b.layer) continue;
      if (Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left) > 1.5 &&
          Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) > 1.5)
        faults.push("on each other: " + named(a.own) + " and " + named(b.own));
    }
  });
  for (const button of host.querySelectorAll("button, .btn, summary, .chip, input, select")) {
    if (!seen(button) || (!modal && button.closest("dialog"))) continue;
    if (button.scrollWidth > button.clientWidth + 2 && button.tagName !== "SELECT" && button.tagName !== "INPUT")
      faults.push("runs out of its button: " + named(button));
    const { width, height } = button.getBoundingClientRect();
    const isLabelled = button.type === "checkbox" || button.type === "radio";
    if (!isLabelled && (height < 43.5 || width < 43.5))
      faults.push("smaller than a thumb, " + Math.round(width) + " × " + Math.round(height) + ": " + named(button));
  }
  const pipes = [...host.querySelectorAll(".drop")].filter(seen).map((pipe) => pipe.getBoundingClientRect());
  for (const { own, box } of texts)
    for (const pipe of pipes)
      if (Math.min(box.right, pipe.right) - Math.max(box.left, pipe.left) > 1 && Math.min(box.bottom, pipe.bottom) - Math.max(box.top, pipe.top) > 1)
        faults.push("crossed by a pipe: " + named(own));
  const marks = [...host.querySelectorAll(".att, .ico")].filter(seen).map((mark) => ({ mark, at: mark.getBoundingClientRect() }));
  for (const { own, box, layer } of texts.filter(({ own }) => getComputedStyle(own).clipPath === "none"))
    for (const { mark, at } of marks)
      if (layerOf(mark) === layer && Math.min(box.right, at.right) - Math.max(box.left, at.left) > 1.5 && Math.min(box.bottom, at.bottom) - Math.max(box.top, at.top) > 1.5)
        faults.push("under a mark: " + named(own));
  // A drum's water stands where its litres say, in the share of its height that the brim leaves.
  for (const vessel of host.querySelectorAll(".vessel:not(.unk)")) {
    const [, litres, capacity] = /: ([\\d.]+) of ([\\d.]+)/.exec(vessel.getAttribute("aria-label")) ?? [];
    const water = vessel.querySelector(".wtr")?.getBoundingClientRect();
    const shell = vessel.querySelector(".shell").getBoundingClientRect();
    if (litres && water && shell.height > 0 && Math.abs(water.height / shell.height - Math.min(1, 0.94 * litres / capacity)) > 0.04)
      faults.push("water is not where its litres say: " + vessel.getAttribute("aria-label"));
  }
  const bar = document.querySelector(".nav");
  if (!modal && bar && getComputedStyle(bar).position === "fixed") {
    scrollTo(0, document.documentElement.scrollHeight);
    const top = bar.getBoundingClientRect().top;
    const last = Math.max(...texts.filter(({ layer }) => layer === null).map(({ node }) => {
      const range = document.createRange();
      range.selectNodeContents(node);
      return range.getBoundingClientRect().bottom;
    }));
    if (last > top) faults.push("the last text ends " + Math.round(last - top) + " px under the bar");
    // By keyboard down and up again: nothing that has the focus lies under the bar or the head.
    const stops = [...document.querySelectorAll("main :is(a, button:not(:disabled), input:not(:disabled), select, summary)")]
      .filter((one) => seen(one) && !isFixed(one) && !one.closest("dialog"));
    const head = document.querySelector(".top");
    scrollTo(0, 0);
    for (const one of ${focusToo} ? [...stops, ...stops.toReversed()] : []) {
      one.focus();
      const box = one.getBoundingClientRect();
      if (box.height < innerHeight / 2 && (box.bottom > top + 1 || box.top < head.getBoundingClientRect().bottom - 1))
        faults.push("focus is under a bar: " + named(one));
    }
    document.activeElement?.blur();
    scrollTo(0, 0);
  }
  return [...new Set(faults)];
})()`;

interface Asked {
  /** Names of forty characters may be shortened with dots. */
  readonly mayShorten: boolean;
  /** Each control is given the focus too. */
  readonly focusToo: boolean;
}

/** What is wrong with the layout of the page, and stays so. */
export const faultsOfLayout = (page: Page, asked: Asked): Promise<string[]> =>
  lastingFaults(() => page.evaluate<string[]>(look(asked)));
