import { useEffect, useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { Choices } from "../components/field.tsx";
import { seriesBetween } from "../data/lists.ts";
import { gatewayNow } from "../data/now.ts";
import { line } from "../data/state.ts";
import { inUnit } from "../format/units.ts";
import { type Series, shownSeries } from "../trend/channels.ts";
import { rangeOf, type Stretch } from "../trend/curve.ts";
import { timeTicks } from "../trend/time-axis.ts";
import { TrendPanel } from "../trend/trend-panel.tsx";
import { say, w } from "../words/words.ts";

const spans = [6, 24, 168] as const;

/** "6 h", "7 days". */
const spanWords = (hours: number): string =>
  hours <= 24 ? say(w.chart.hours, { count: hours }) : say(w.chart.days, { count: hours / 24 });

interface HistoryPanelProps {
  readonly kind: "points" | "drums";
  readonly id: string;
  readonly quantity: string;
  readonly title: string;
  readonly unit: string;
  readonly limit: number | null;
}

const againMs = 60_000;

/** One quantity over the last hours or days, and the way to the trend. */
export function HistoryPanel({ kind, id, quantity, title, unit, limit }: HistoryPanelProps) {
  const [hours, choose] = useState<number>(24);
  const [got, take] = useState<{ readonly series: Series; readonly span: Stretch } | null | undefined>(
    undefined,
  );
  const [times, count] = useState(0);
  useEffect(() => {
    let isOver = false;
    const load = async () => {
      const toMs = gatewayNow();
      const span = { fromMs: toMs - hours * 3_600_000, toMs };
      const buckets = await seriesBetween(kind, id, quantity, span.fromMs, toMs);
      const key = `${kind}/${id}/${quantity}`;
      const series = buckets && { key, kind, id, quantity, title, unit, panel: title, limit, buckets };
      if (!isOver) take(series && { series, span });
    };
    void load();
    const timer = setInterval(() => {
      if (!document.hidden) void load();
    }, againMs);
    return () => {
      isOver = true;
      clearInterval(timer);
    };
  }, [kind, id, quantity, hours, times]);
  const range = got ? rangeOf([got.series.buckets]) : null;
  const label = range
    ? say(w.chart.range, { title, hours, lowest: inUnit(range.low, unit), highest: inUnit(range.high, unit) })
    : say(w.chart.nothing, { title, hours });
  return (
    <Card
      title={w.point.history}
      beside={<a href={`#trend?show=${kind}/${id}/${quantity}&hours=${hours}`}>{w.point.openTrend}</a>}
    >
      <Choices
        label={w.chart.howLong}
        as="segments"
        choices={spans.map((value) => ({ value, words: spanWords(value) }))}
        chosen={hours}
        choose={choose}
      />
      {got === null && <CouldNotLoad what={w.point.theHistory} again={() => count((before) => before + 1)} />}
      {got && (
        <TrendPanel
          title={title}
          unit={shownSeries(got.series).unit}
          series={[shownSeries(got.series)]}
          loaded={got.span}
          shown={got.span}
          heightRem={11}
          fills={noFills}
          stands={noStands}
          named={false}
          isAlone
          cursorMs={null}
          now={never}
          times={timeTicks(got.span.fromMs, got.span.toMs, 5, { zone: line.value?.timezone })}
          label={label}
        />
      )}
    </Card>
  );
}

const noFills: readonly never[] = [];
const noStands: readonly never[] = [];
const never = () => null;
