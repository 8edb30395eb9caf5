import { existsSync, readFileSync } from "node:fs";
import type { Browser } from "playwright-core";

/** A picture of a contact sheet: its file, what stands over it, how wide it is drawn, px. */
export interface Picture {
  readonly file: string;
  readonly words: string;
  readonly widthPx: number;
}

const sheetPx = 1560;
const maxHeightPx = 760;

/** Many pictures on one, in rows: whoever looks at all of them opens few files. Those that are not there are left out. */
export async function contactSheet(
  browser: Browser,
  path: string,
  rows: readonly (readonly Picture[])[],
): Promise<void> {
  const figure = ({ file, words, widthPx }: Picture) => {
    const bytes = readFileSync(file).toString("base64");
    return `<figure style="width:${widthPx}px"><figcaption>${words}</figcaption><div><img src="data:image/png;base64,${bytes}"></div></figure>`;
  };
  const there = rows.map((row) => row.filter(({ file }) => existsSync(file))).filter((row) => row.length > 0);
  if (there.length === 0) return;
  const page = await browser.newPage({ viewport: { width: sheetPx, height: 900 } });
  await page.setContent(`<style>
    body { margin: 6px; font: 12px sans-serif; }
    section { display: flex; align-items: start; gap: 8px; margin-bottom: 6px; }
    figure { margin: 0; flex: none; } img { width: 100%; display: block; }
    div { max-height: ${maxHeightPx}px; overflow: hidden; border: 1px solid #888; }
    </style>${there.map((row) => `<section>${row.map(figure).join("")}</section>`).join("")}`);
  await page.screenshot({ path, fullPage: true });
  await page.close();
}

/** A list in pieces of so many. */
export const piecesOf = <One>(list: readonly One[], length: number): readonly (readonly One[])[] =>
  Array.from({ length: Math.ceil(list.length / length) }, (_, at) =>
    list.slice(at * length, (at + 1) * length),
  );
