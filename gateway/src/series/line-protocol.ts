import type { SeriesRow } from "./series-store.ts";

/** What a tag's value may not hold as it is: InfluxData, "Line protocol", special characters. */
const escaped = (text: string) =>
  text.replaceAll(/[\\,= \n]/g, (char) => (char === "\n" ? "\\n" : `\\${char}`));

/**
 * A row in InfluxDB's line protocol, milliseconds: the measurement is the first part of the series' name, the tag `series`
 * the whole name, the fields `v` (left out where the value is missing) and `q`, the flag.
 */
export function lineOf({ series, tMs, value, flag }: SeriesRow): string {
  const measurement = escaped(series.slice(0, series.includes("/") ? series.indexOf("/") : undefined));
  // Without an exponent's plus sign and always a float: a whole number has no `i` behind it.
  const field = value === null || !Number.isFinite(value) ? "" : `v=${value},`;
  return `${measurement},series=${escaped(series)} ${field}q=${flag}i ${Math.round(tMs)}`;
}
