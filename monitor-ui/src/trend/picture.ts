import { figure } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { axisOf } from "./axis.ts";
import { unitWords } from "./channels.ts";
import { curveOn, emptyIn, rangeOf, type Stretch } from "./curve.ts";
import type { PanelOf } from "./panels.ts";
import { timeTicks } from "./time-axis.ts";

const width = 1200;
const left = 90;
const right = 30;
const panelHeight = 260;
const headHeight = 56;

const plain = (text: string) =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

const dashes = ["", "10 6", "3 4", "14 4 3 4"];

/** The charts as one drawing (SVG), dark on light whatever the page looks like: for a file. */
export function pictureOf(
  panels: readonly PanelOf[],
  {
    loaded,
    title,
    zone,
    times = timeTicks(loaded.fromMs, loaded.toMs, 10, { zone }),
  }: {
    readonly loaded: Stretch;
    readonly title: string;
    readonly zone: string | undefined;
    /** What stands under it, where it is no time of the day. */
    readonly times?: ReturnType<typeof timeTicks>;
  },
): { readonly svg: string; readonly width: number; readonly height: number } {
  const height = headHeight + panels.length * panelHeight + 40;
  const x = (ms: number) =>
    left + ((ms - loaded.fromMs) / (loaded.toMs - loaded.fromMs)) * (width - left - right);
  const drawn = panels.map(({ unit, title: name, series }, at) => {
    const top = headHeight + at * panelHeight + 34;
    const tall = panelHeight - 62;
    const limits = series.flatMap(({ limit }) => (limit === null ? [] : [limit]));
    const range = rangeOf(series.map(({ buckets }) => buckets));
    const all = [range?.low ?? 0, range?.high ?? 1, ...limits];
    const axis = axisOf(Math.min(...all), Math.max(...all), unit);
    const y = (value: number) => top + axis.y(value) * tall;
    const scale = `translate(${left} ${top}) scale(${(width - left - right) / 1000} ${tall / 1000})`;
    const names = series.map(
      ({ title: own }, place) => `${plain(own)}${place < series.length - 1 ? " · " : ""}`,
    );
    return [
      `<text x="${left}" y="${top - 12}" font-weight="700">${plain(name)}, ${plain(unitWords(unit))}</text>`,
      `<text x="${width - right}" y="${top - 12}" text-anchor="end">${names.join("")}</text>`,
      ...axis.ticks.map(
        ({ value, words }) =>
          `<path d="M${left} ${y(value)}H${width - right}" stroke="#c5cac6"/><text x="${left - 10}" y="${y(value) + 5}" text-anchor="end">${words}</text>`,
      ),
      ...emptyIn(series.map(({ buckets }) => buckets)).map(
        (gap) =>
          `<rect x="${x(gap.fromMs)}" y="${top}" width="${x(gap.toMs) - x(gap.fromMs)}" height="${tall}" fill="#dcdfdb"/>`,
      ),
      ...series.flatMap(({ buckets }, place) => {
        const { band, mean } = curveOn(buckets, axis, loaded);
        const keep = 'vector-effect="non-scaling-stroke"';
        return [
          `<path transform="${scale}" d="${band}" fill="#8498a0" fill-opacity=".35" stroke="#8498a0" ${keep}/>`,
          `<path transform="${scale}" d="${mean}" fill="none" stroke="#1a2123" stroke-width="2" stroke-dasharray="${dashes[place % dashes.length]}" ${keep}/>`,
        ];
      }),
      ...limits.map(
        (limit) =>
          `<path d="M${left} ${y(limit)}H${width - right}" stroke="#1a2123" stroke-dasharray="6 4"/><text x="${left + 6}" y="${y(limit) - 5}">${plain(say(w.point.limitOf, { value: figure(limit) }))}</text>`,
      ),
      `<path d="M${left} ${top}V${top + tall}H${width - right}" fill="none" stroke="#98a2a2"/>`,
    ].join("");
  });
  const under = times.map(
    ({ ms, words }) => `<text x="${x(ms)}" y="${height - 16}" text-anchor="middle">${plain(words)}</text>`,
  );
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" font-family="sans-serif" font-size="15" fill="#1a2123">` +
    `<rect width="${width}" height="${height}" fill="#f5f6f2"/><text x="${left}" y="34" font-size="20" font-weight="700">${plain(title)}</text>` +
    `${drawn.join("")}${under.join("")}</svg>`;
  return { svg, width, height };
}

/** The drawing as a PNG; null where the browser can't. */
export async function pngOf(picture: ReturnType<typeof pictureOf>): Promise<Blob | null> {
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(picture.svg)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [picture.width * 2, picture.height * 2];
  const context = canvas.getContext("2d");
  if (!context) return null;
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
}
