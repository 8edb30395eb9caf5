import { useEffect, useRef } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { recentSeries } from "../data/acts.ts";
import { axisTimes, colour, lonely } from "./plot-parts.ts";

const againMs = 60_000;

/** A point's last six hours: smallest to greatest as a band, the mean as a line, gaps as gaps, the limit dashed. */
export function PointChart({
  point,
  title,
  limit,
}: {
  readonly point: string;
  readonly title: string;
  readonly limit: number | null;
}) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const host = place.current;
    if (!host) return;
    const edge = { stroke: "transparent", points: { show: false } };
    const axis = {
      stroke: colour("--soft"),
      grid: { stroke: colour("--rule"), width: 1 },
      ticks: { show: false },
      font: "11px system-ui",
    };
    const plot = new uPlot(
      {
        width: host.clientWidth || 300,
        height: 110,
        legend: { show: false },
        cursor: { y: false },
        scales: {
          y: {
            range: (_plot, least, most) => [Math.min(0, least ?? 0), Math.max((most ?? 1) * 1.1, limit ?? 0)],
          },
        },
        series: [
          {},
          edge,
          edge,
          {
            stroke: colour("--ink"),
            width: 1.5,
            points: { show: true, size: 4, fill: colour("--ink"), filter: lonely },
          },
          { stroke: colour("--soft"), dash: [4, 4], points: { show: false } },
        ],
        bands: [{ series: [2, 1], fill: colour("--band") }],
        axes: [
          { ...axis, values: axisTimes },
          { ...axis, size: 42 },
        ],
      },
      [[], [], [], [], []],
      host,
    );
    const load = async () => {
      const data = await recentSeries(point, 6);
      if (data)
        plot.setData([data.t.map((ms) => ms / 1000), data.min, data.max, data.mean, data.t.map(() => limit)]);
    };
    void load();
    const timer = setInterval(() => {
      if (!document.hidden) void load();
    }, againMs);
    const resized = new ResizeObserver(() => plot.setSize({ width: host.clientWidth, height: 110 }));
    resized.observe(host);
    return () => {
      clearInterval(timer);
      resized.disconnect();
      plot.destroy();
    };
  }, [point, limit]);
  return (
    <div
      class="chart"
      ref={place}
      role="img"
      aria-label={`${title}: reference conductivity over the last six hours, microsiemens per centimetre`}
    />
  );
}
