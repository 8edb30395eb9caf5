import type { Buckets } from "@drumlin/gateway/contract";
import { useEffect, useMemo, useState } from "preact/hooks";
import { seriesBetween } from "../data/lists.ts";
import { gatewayNow } from "../data/now.ts";
import { gatewayNowMs } from "../data/state.ts";
import { clock } from "../format/numbers.ts";
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
  /** Since when it shows, epoch ms; the last six hours where left out. */
  readonly sinceMs?: number | null;
  /** Until when; now where left out. */
  readonly untilMs?: number | null;
  /** When what it is about began: an upright. */
  readonly markMs?: number | null;
}

/** Where a time stands in buckets, 0 to 1. */
function placeIn({ t, bucketMs }: Buckets, ms: number): number {
  return Math.min(1, Math.max(0, (ms - (t[0] ?? ms)) / Math.max(1, t.length * bucketMs)));
}

/** The last six hours, or another time, as a small curve; it opens the trend. Nothing is drawn that could not be loaded. */
export function Spark(props: SparkProps) {
  const { kind, id, quantity, title, limit, sinceMs = null, untilMs = null, markMs = null } = props;
  const [recent, take] = useState<Buckets | null>(null);
  useEffect(() => {
    let isOver = false;
    const load = async () => {
      const to = untilMs ?? gatewayNow();
      const got = await seriesBetween(kind, id, quantity, sinceMs ?? to - hours * 3_600_000, to, buckets);
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
  }, [kind, id, quantity, sinceMs, untilMs]);
  const unit = kind === "points" ? "uS/cm" : "L";
  const curve = useMemo(() => recent && curveOf(recent, limit), [recent, limit]);
  // Fifty curves that each heard the second's tick would keep a phone busy: only times of the past are set against now.
  const now = sinceMs === null ? gatewayNowMs.peek() : gatewayNowMs.value;
  const span =
    sinceMs === null
      ? say(w.chart.lastHours, { hours })
      : say(w.chart.since, { time: clock(new Date(sinceMs).toISOString(), now) });
  const words =
    curve && curve.lowest !== null && curve.highest !== null
      ? say(w.chart.range, {
          title,
          span,
          lowest: inUnit(curve.lowest, unit),
          highest: inUnit(curve.highest, unit),
        })
      : say(w.chart.nothing, { title, span });
  const mark = recent === null || markMs === null ? null : placeIn(recent, markMs) * curveWidth;
  const time =
    sinceMs === null
      ? `hours=${hours}`
      : `from=${Math.round(sinceMs / 1000)}&to=${Math.round((untilMs ?? now) / 1000)}`;
  return (
    <a class="sparklink" href={`#trend?show=${kind}/${id}/${quantity}&${time}`}>
      <svg
        class="spark"
        viewBox={`0 0 ${curveWidth} ${curveHeight}`}
        preserveAspectRatio="none"
        aria-hidden="true"
      >
        {curve && <path class="b" d={curve.band} />}
        {curve?.limit != null && <path class="lm" d={`M0 ${curve.limit}H${curveWidth}`} />}
        {mark !== null && <path class="mk-at" d={`M${mark.toFixed(1)} 0V${curveHeight}`} />}
        {curve && <path class="l" d={curve.line} />}
      </svg>
      <span class="vh">{say(w.chart.openTrend, { words })}</span>
      <span class="sparkcap" aria-hidden="true">
        <span>{sinceMs === null ? `${hours} h` : clock(new Date(sinceMs).toISOString(), now)}</span>
        <span>{untilMs === null ? w.frame.now : clock(new Date(untilMs).toISOString(), now)}</span>
      </span>
    </a>
  );
}
