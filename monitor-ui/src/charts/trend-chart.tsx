import type { Buckets } from "@drumlin/gateway/contract";
import { useEffect, useRef } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { isDark } from "../data/theme.ts";
import { axisTimes, colour, dayAndTime, lonely } from "./plot-parts.ts";

/** One line of the chart. */
export interface TrendSeries {
  readonly title: string;
  readonly unit: string;
  readonly buckets: Buckets;
}

/** A stretch of time to be marked: a fill, or the moment of an alarm. */
export interface TrendMark {
  readonly fromMs: number;
  readonly toMs: number;
  readonly kind: "fill" | "alarm";
}

// Told apart by dashes as well as by shade: never by colour alone.
const dashes = [[], [6, 4], [2, 3], [10, 3, 2, 3]];

function drawMarks(plot: uPlot, marks: readonly TrendMark[]): void {
  const { ctx } = plot;
  const { top, height, left, width } = plot.bbox;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  for (const { fromMs, toMs, kind } of marks) {
    const from = plot.valToPos(fromMs / 1000, "x", true);
    const to = plot.valToPos(toMs / 1000, "x", true);
    ctx.fillStyle = colour(kind === "fill" ? "--band" : "--tell");
    if (kind === "fill") ctx.fillRect(from, top, Math.max(2, to - from), height);
    else ctx.fillRect(from - 1, top, 3, height);
  }
  ctx.restore();
}

/** A bar along the bottom where what was measured is suspect or failed a test: it must not look like good data. */
function drawSuspect(plot: uPlot, series: readonly TrendSeries[]): void {
  const { ctx } = plot;
  const { top, height } = plot.bbox;
  ctx.save();
  ctx.fillStyle = colour("--tell");
  for (const { buckets } of series) {
    buckets.flag.forEach((flag, place) => {
      if (flag !== 3 && flag !== 4) return;
      const fromS = (buckets.t[place] as number) / 1000;
      const from = plot.valToPos(fromS, "x", true);
      const to = plot.valToPos(fromS + buckets.bucketMs / 1000, "x", true);
      ctx.fillRect(from, top + height - 5, Math.max(1, to - from), 5);
    });
  }
  ctx.restore();
}

/** Series of one unit over one time: smallest to greatest as a band, the mean as a line, gaps as gaps, fills and alarms marked. */
export function TrendChart({
  series,
  marks,
  limit,
  label,
}: {
  readonly series: readonly TrendSeries[];
  readonly marks: readonly TrendMark[];
  readonly limit: number | null;
  readonly label: string;
}) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const host = place.current;
    const [first] = series;
    if (!host || !first) return;
    const axis = {
      stroke: colour("--soft"),
      grid: { stroke: colour("--rule"), width: 1 },
      ticks: { show: false },
      font: "12px system-ui",
    };
    const ink = colour("--ink");
    const edge = { stroke: "transparent", points: { show: false } };
    const plot = new uPlot(
      {
        width: host.clientWidth || 320,
        height: 260,
        legend: { show: true, live: true },
        cursor: { y: false },
        scales: {
          y: {
            range: (_plot, least, most) => [
              Math.min(0, least ?? 0),
              Math.max((most ?? 1) * 1.08, (limit ?? 0) * 1.2, 1e-6),
            ],
          },
        },
        series: [
          { label: "time", value: (_plot, s) => (s == null ? "" : dayAndTime(s)) },
          ...series.flatMap(({ title, unit }, at) => [
            { ...edge, label: `${title}, smallest` },
            { ...edge, label: `${title}, greatest` },
            {
              label: `${title}, ${unit === "uS/cm" ? "µS/cm" : unit}`,
              stroke: ink,
              width: at === 0 ? 2 : 1.5,
              dash: dashes[at % dashes.length] as number[],
              points: { show: true, size: 4, fill: ink, filter: lonely },
            },
          ]),
          ...(limit === null
            ? []
            : [{ label: "limit", stroke: colour("--tell"), dash: [3, 5], points: { show: false } }]),
        ],
        bands: series.map((_, at) => ({
          series: [at * 3 + 2, at * 3 + 1] as uPlot.Band.Bounds,
          fill: colour("--band"),
        })),
        axes: [
          { ...axis, values: axisTimes },
          { ...axis, size: 52 },
        ],
        hooks: {
          drawClear: [(drawn) => drawMarks(drawn, marks)],
          draw: [(drawn) => drawSuspect(drawn, series)],
        },
      },
      [
        first.buckets.t.map((ms) => ms / 1000),
        ...series.flatMap(({ buckets }) => [buckets.min, buckets.max, buckets.mean]),
        ...(limit === null ? [] : [first.buckets.t.map(() => limit)]),
      ],
      host,
    );
    const resized = new ResizeObserver(() => plot.setSize({ width: host.clientWidth, height: 260 }));
    resized.observe(host);
    return () => {
      resized.disconnect();
      plot.destroy();
    };
  }, [series, marks, limit, isDark.value]);
  return <div class="chart trend" ref={place} role="img" aria-label={label} />;
}
