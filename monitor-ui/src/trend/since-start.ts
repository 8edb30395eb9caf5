import type { Buckets } from "@drumlin/gateway/contract";
import { duration } from "../format/numbers.ts";

/** Buckets of a fill with times counted from its start, ms; what came after its end is left out. */
export function sinceStart(buckets: Buckets, startMs: number, endMs: number): Buckets {
  const { t, min, mean, max, count, flag } = buckets;
  const kept = t.findLastIndex((ms) => ms <= endMs) + 1;
  return {
    ...buckets,
    t: t.slice(0, kept).map((ms) => ms - startMs),
    min: min.slice(0, kept),
    mean: mean.slice(0, kept),
    max: max.slice(0, kept),
    count: count.slice(0, kept),
    flag: flag.slice(0, kept),
  };
}

const minute = 60_000;
const steps = [10_000, 30_000, minute, 2 * minute, 5 * minute, 10 * minute, 20 * minute, 30 * minute].concat(
  [1, 2, 4, 8, 24].map((hours) => hours * 60 * minute),
);

/** Round durations in a stretch that is counted from a start, `most` at most. */
export function durationTicks(fromMs: number, toMs: number, most: number) {
  const step = steps.find((one) => (toMs - fromMs) / one <= most) ?? (steps.at(-1) as number);
  const found: { readonly ms: number; readonly words: string }[] = [];
  for (let ms = Math.max(0, Math.ceil(fromMs / step) * step); ms <= toMs && found.length <= most; ms += step)
    found.push({ ms, words: ms === 0 ? "0" : duration(ms) });
  return found;
}

interface ComparedFill {
  /** When the fill began, ISO 8601. */
  readonly startedAt: string;
  readonly buckets: Buckets;
}

/** Fills side by side as a table (RFC 4180): a row a bucket of a fill, with its seconds from the start. Numbers have a point. */
export function csvOfFills(fills: readonly ComparedFill[], unit: string): string {
  const head = ["fill", "seconds", `mean [${unit}]`, `min [${unit}]`, `max [${unit}]`, "count", "flag"];
  const rows = fills.flatMap(({ startedAt, buckets: { t, mean, min, max, count, flag } }) =>
    t.map((ms, at) => [
      startedAt,
      ms / 1000,
      mean[at] ?? "",
      min[at] ?? "",
      max[at] ?? "",
      count[at] ?? 0,
      flag[at] ?? 9,
    ]),
  );
  return [head, ...rows].map((row) => `${row.join(",")}\r\n`).join("");
}
