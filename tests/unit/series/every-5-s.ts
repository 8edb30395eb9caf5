import type { SeriesRow } from "@drumlin/gateway/series";

/** A series' rows, one each 5 s, [from, to) epoch ms. */
export const every5s = (
  series: string,
  fromMs: number,
  toMs: number,
  value = (tMs: number) => (tMs % 97_000) / 1000,
): SeriesRow[] =>
  Array.from({ length: (toMs - fromMs) / 5000 }, (_, index) => {
    const tMs = fromMs + index * 5000;
    return { series, tMs, value: value(tMs), flag: 1 };
  });
