import type { Page } from "playwright-core";
import { expect } from "vitest";

/** What a hand does on the page that draws the line, on a phone 320 px wide; `page` is asked each time. */
export function drawnLine(page: () => Page) {
  const open = (name: string) => page().locator(".nav").getByRole("link", { name }).click();
  const next = () => page().locator(".steps-on .first").click();
  const part = (name: RegExp) => page().locator(".drawn").getByRole("button", { name });
  const undoable = (words: string) =>
    page().locator(".undo-last").getByText(words, { exact: true }).waitFor();
  const overTheBar = () =>
    page().evaluate(`(() => {
      const [own, bar] = [".undo-last button", ".nav"].map((name) => document.querySelector(name).getBoundingClientRect());
      return own.top > innerHeight / 2 && own.bottom <= bar.top;
    })()`);
  const fits = async () =>
    (await page().locator(".slots .slot").allTextContents()).map((text) => text.trim());
  const chip = (channel: string) =>
    page()
      .locator(".chips")
      .getByRole("button", { name: new RegExp(channel) });
  /** Takes a channel in the hand, and taps a part's place. */
  async function tap(channel: string, of: string, place: string): Promise<void> {
    await chip(channel).click();
    await page()
      .locator(".drawn > li", { has: page().locator(".part", { hasText: of }) })
      .getByRole("button", { name: new RegExp(place) })
      .click();
  }
  async function hang(channel: string, of: string, place: string): Promise<void> {
    await tap(channel, of, place);
    await undoable(`${channel} placed`);
  }
  const widthIsKept = () =>
    expect.poll(() => page().evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(320);
  return { open, next, part, undoable, overTheBar, fits, chip, tap, hang, widthIsKept };
}
