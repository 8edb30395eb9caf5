import type { Page } from "playwright-core";
import { expect } from "vitest";

/** Whether two looks at what is drawn, a tenth of a second and a frame apart, are the same. */
const isStill = `new Promise((resolve) => {
  const look = () => document.body.innerHTML + document.documentElement.scrollWidth + " " + document.documentElement.scrollHeight;
  const before = look();
  setTimeout(() => requestAnimationFrame(() => resolve(look() === before)), 100);
})`;

/** Waits until all that the page asked for is answered and drawn: only then do things stay where they are. */
export async function atRest(page: Page, server: { waiting(): number }): Promise<void> {
  await expect
    .poll(
      async () => server.waiting() === 0 && (await page.evaluate<boolean>(isStill)) && server.waiting() === 0,
    )
    .toBe(true);
}

/** What is wrong, once it lasts: what is seen while the page is still being drawn is no fault. */
export async function lastingFaults(look: () => Promise<string[]>): Promise<string[]> {
  let faults = await look();
  for (let times = 0; faults.length > 0 && times < 20; times += 1) {
    await new Promise((resolve) => setTimeout(resolve, 100));
    faults = await look();
  }
  return faults;
}
