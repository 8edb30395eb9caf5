import type { SeriesRow } from "./series-store.ts";

/** What a tag's value may not hold as it is: InfluxData, "Line protocol", special characters. */
const escaped = (text: string) => text.replaceAll(/[,= ]/g, "\\$&");

/**
 * A series' name as the tag `series` holds it. Line protocol has no escape for a backslash that every version reads alike,
 * and a line break ends a point: these two stand percent-encoded (RFC 3986), and a percent sign that could be taken for one.
 */
export function tagOf(series: string): string {
  return series.replaceAll(/[\\\n\r]|%(?=5C|0A|0D|25)/g, encodeURIComponent);
}

/** The name of the series that a tag stands for. */
export function seriesOfTag(tag: string): string {
  return tag.replaceAll(/%(5C|0A|0D|25)/g, decodeURIComponent);
}

/** The measurement of a series: the first part of its name ("reading", "point"); "series" for a name that has none. */
export function measurementOf(series: string): string {
  return /^([a-z][a-z0-9-]*)\//.exec(series)?.[1] ?? "series";
}

/** What is the same in all lines of a series. */
export function lineHeadOf(series: string): string {
  return `${measurementOf(series)},series=${escaped(tagOf(series))} `;
}

/** A line: the head of its series, the fields `v` (left out where the value is missing) and `q`, the flag, and the time. */
export function lineWith(head: string, { tMs, value, flag }: Omit<SeriesRow, "series">): string {
  // Always a float: a whole number has no `i` behind it.
  const field = value === null || !Number.isFinite(value) ? "" : `v=${value},`;
  return `${head}${field}q=${flag}i ${Math.round(tMs)}`;
}

/** A row in InfluxDB's line protocol, milliseconds. */
export function lineOf(row: SeriesRow): string {
  return lineWith(lineHeadOf(row.series), row);
}
