import { useEffect, useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { Choices } from "../components/field.tsx";
import { seriesBetween } from "../data/lists.ts";
import { gatewayNow } from "../data/now.ts";
import { TrendChart, type TrendSeries } from "./trend-chart.tsx";

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
  const [series, take] = useState<readonly TrendSeries[] | null | undefined>(undefined);
  const [times, count] = useState(0);
  useEffect(() => {
    let isOver = false;
    const load = async () => {
      const to = gatewayNow();
      const buckets = await seriesBetween(kind, id, quantity, to - hours * 3_600_000, to);
      if (!isOver) take(buckets && [{ title, unit, buckets }]);
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
  return (
    <Card
      title="History"
      beside={<a href={`#trend?show=${kind}/${id}/${quantity}&hours=${hours}`}>Open in Trend</a>}
    >
      <Choices label="How long" as="segments" choices={spans} chosen={hours} choose={choose} />
      {series === null && <CouldNotLoad what="the history" again={() => count((before) => before + 1)} />}
      {series && (
        <TrendChart
          series={series}
          marks={noMarks}
          limit={limit}
          label={`${title}, ${unit === "uS/cm" ? "µS/cm" : unit}, the last ${hours} hours`}
        />
      )}
    </Card>
  );
}

const noMarks: readonly never[] = [];
