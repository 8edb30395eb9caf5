import type { Page } from "playwright-core";
import type { Fixture } from "./fixture-server.ts";
import type { State } from "./house/states.ts";

/** A press, a word, what happens meanwhile; a pattern: go on with Tab until that has focus. */
type Step =
  | RegExp
  | { readonly type: string }
  | { readonly press: string }
  | { readonly meanwhile: () => Promise<unknown> };

/** What is done by keys alone, and what is sent and said. */
export interface Path {
  readonly act: string;
  readonly state?: State;
  readonly at: string;
  /** No water runs. */
  readonly still?: boolean;
  /** What stands otherwise than in that state. */
  readonly otherwise?: () => Partial<Fixture>;
  /** Answers to what is sent. */
  readonly answers?: Readonly<Record<string, unknown>>;
  readonly steps: readonly Step[];
  /** What is sent. */
  readonly sent: string;
  /** What is said of it, once; null: nothing by the act itself. */
  readonly says: RegExp | null;
}

/** What has focus, as whoever hears the page is told of it. */
const focused = (page: Page) =>
  page.evaluate<string>(`(() => {
    const own = document.activeElement;
    if (!own || own === document.body) return "nothing";
    const label = own.closest("label");
    const words = own.getAttribute("aria-label") ?? (label ? label.textContent : own.textContent);
    return (words ?? "").trim().replace(/\\s+/g, " ");
  })()`);

/** Goes on with Tab until what is wanted has focus; begins again while the page still loads what it shows. */
export async function reach(page: Page, name: RegExp): Promise<void> {
  const untilMs = Date.now() + 20_000;
  let passed: string[] = [];
  do {
    passed = [];
    for (let times = 0; times < 90; times += 1) {
      const now = await focused(page);
      if (name.test(now)) return;
      passed.push(now.slice(0, 40));
      await page.keyboard.press("Tab");
    }
  } while (Date.now() < untilMs);
  throw new Error(`${name} was not reached; passed: ${passed.join(" | ")}`);
}
