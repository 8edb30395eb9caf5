import type { Buckets } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { seriesBetween } from "../data/lists.ts";
import { gatewayNow } from "../data/now.ts";
import { inUnit } from "../format/units.ts";
import { say, w } from "../words/words.ts";
import { curveHeight, curveOf, curveWidth } from "./curve.ts";

const againMs = 60_000;
const hours = 6;
const buckets = 96;

interface SparkProps {
  readonly kind: "points" | "drums";
  readonly id: string;
  readonly quantity: string;
  readonly title: string;
  readonly limit: number | null;
}

/** The last six hours as a small curve; it opens the trend. Nothing is drawn that could not be loaded. */
export function Spark({ kind, id, quantity, title, limit }: SparkProps) {
  const [recent, take] = useState<Buckets | null>(null);
  useEffect(() => {
    let isOver = false;
    const load = async () => {
      const to = gatewayNow();
      const got = await seriesBetween(kind, id, quantity, to - hours * 3_600_000, to, buckets);
      if (got && !isOver) take(got);
    };
    void load();
    const timer = setInterval(() => {
      if (!document.hidden) void load();
    }, againMs);
    return () => {
      isOver = true;
      clearInterval(timer);
    };
  }, [kind, id, quantity]);
  const unit = kind === "points" ? "uS/cm" : "L";
  const curve = recent && curveOf(recent, limit);
  const words =
    curve && curve.lowest !== null && curve.highest !== null
      ? say(w.chart.range, {
          title,
          hours,
          lowest: inUnit(curve.lowest, unit),
          highest: inUnit(curve.highest, unit),
        })
      : say(w.chart.nothing, { title, hours });
  return (
    <a class="sparklink" href={`#trend?show=${kind}/${id}/${quantity}&hours=${hours}`}>
      <svg
        class="spark"
        viewBox={`0 0 ${curveWidth} ${curveHeight}`}
        preserveAspectRatio="none"
        aria-hidden="true"
      >
        {curve && <path class="b" d={curve.band} />}
        {curve?.limit != null && <path class="lm" d={`M0 ${curve.limit}H${curveWidth}`} />}
        {curve && <path class="l" d={curve.line} />}
      </svg>
      <span class="vh">{say(w.chart.openTrend, { words })}</span>
      <span class="sparkcap" aria-hidden="true">
        <span>{hours} h</span>
        <span>{w.frame.now}</span>
      </span>
    </a>
  );
}
