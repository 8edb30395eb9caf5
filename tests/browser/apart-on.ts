import type { Page } from "playwright-core";

/** Texts that let a number part from its unit at the end of a row; what is there to be copied keeps its spaces. */
export const apartOn = (page: Page) =>
  page.evaluate<string[]>(`(() => {
    const found = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const { data, parentElement } = walker.currentNode;
      const isCopied = parentElement.closest("pre, code, textarea, script");
      if (!isCopied && /(\\d|^) (L|L\\/min|µS\\/cm|mg\\/L|min|h|s|kg|%|°C)(?![\\p{L}\\d])/u.test(data)) found.push(data);
    }
    return found;
  })()`);
