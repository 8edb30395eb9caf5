import type { Series } from "./channels.ts";

/** A cell as RFC 4180 wants it: quoted where it holds a comma, a quote or a line end. */
const cell = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/**
 * Series as a table (RFC 4180): a row a bucket, with mean, lowest, highest, count and flag (QARTOD: 1 good, 2 not judged,
 * 3 suspect, 4 failed, 9 missing) of each. Times are ISO 8601 in UTC, numbers have a point.
 */
export function csvOf(series: readonly Series[]): string {
  const [first] = series;
  if (!first) return "";
  const head = series.flatMap(({ title, unit }) =>
    ["mean", "min", "max", "count", "flag"].map((what) =>
      cell(`${title} ${what}${what === "count" || what === "flag" ? "" : ` [${unit}]`}`),
    ),
  );
  const rows = first.buckets.t.map((ms, at) => [
    new Date(ms).toISOString(),
    ...series.flatMap(({ buckets: { mean, min, max, count, flag } }) => [
      mean[at] ?? "",
      min[at] ?? "",
      max[at] ?? "",
      count[at] ?? 0,
      flag[at] ?? 9,
    ]),
  ]);
  return [["time", ...head], ...rows].map((row) => `${row.join(",")}\r\n`).join("");
}
