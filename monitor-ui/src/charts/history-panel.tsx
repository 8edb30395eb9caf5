import { useEffect, useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { Choices } from "../components/field.tsx";
import { seriesBetween } from "../data/lists.ts";
import { gatewayNow } from "../data/now.ts";
import { line } from "../data/state.ts";
import { figure } from "../format/numbers.ts";
import { type Series, unitWords } from "../trend/channels.ts";
import { rangeOf, type Stretch } from "../trend/curve.ts";
import { timeTicks } from "../trend/time-axis.ts";
import { TrendPanel } from "../trend/trend-panel.tsx";

const spans = [
  { value: 6, words: "6 h" },
  { value: 24, words: "24 h" },
  { value: 168, words: "7 days" },
] as const;

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
  const said = range
    ? `${figure(range.low)} to ${figure(range.high)} ${unitWords(unit)}`
    : "nothing was measured";
  return (
    <Card
      title="History"
      beside={<a href={`#trend?show=${kind}/${id}/${quantity}&hours=${hours}`}>Open in Trend</a>}
    >
      <Choices label="How long" as="segments" choices={spans} chosen={hours} choose={choose} />
      {got === null && <CouldNotLoad what="the history" again={() => count((before) => before + 1)} />}
      {got && (
        <TrendPanel
          title={title}
          unit={unit}
          series={[got.series]}
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
          label={`${title}, the last ${hours} hours: ${said}`}
        />
      )}
    </Card>
  );
}

const noFills: readonly never[] = [];
const noStands: readonly never[] = [];
const never = () => null;
