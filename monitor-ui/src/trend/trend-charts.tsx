import { useRef, useState } from "preact/hooks";
import { gatewayNow } from "../data/now.ts";
import { line } from "../data/state.ts";
import type { Loaded } from "../data/trend.ts";
import { figure } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { nowOf, unitWords } from "./channels.ts";
import { rangeOf, type Stretch } from "./curve.ts";
import { ofKey, useGestures } from "./gestures.ts";
import { type PanelOf, panelsOf } from "./panels.ts";
import { timeTicks } from "./time-axis.ts";
import { TrendPanel } from "./trend-panel.tsx";
import type { Window } from "./window.ts";

interface TrendChartsProps {
  readonly loaded: Loaded;
  readonly window: Window;
  readonly zone: string | undefined;
  readonly cursorMs: number;
  readonly onCursor: (ms: number) => void;
  readonly onWindow: (next: Window) => void;
  readonly onHome: () => void;
}

/** What a panel shows, for whoever can't see it. */
function labelOf({ title, unit, series }: PanelOf): string {
  const said = series.map(({ title: name, buckets }) => {
    const range = rangeOf([buckets]);
    return range
      ? say(w.trendWords.range, {
          title: name,
          low: figure(range.low),
          high: `${figure(range.high)} ${unitWords(unit)}`,
        })
      : say(w.trendWords.nothingMeasured, { title: name });
  });
  return `${title}. ${said.join("; ")}`;
}

/** Times that have room under a panel: each is some 5 letters wide, in the reader's own size. */
function mostTicks(host: HTMLElement | null): number {
  const letterPx = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  return Math.min(9, Math.max(2, Math.floor((host?.clientWidth ?? 800) / (5 * letterPx))));
}

/** All panels over one time, with one cursor: moved by finger, wheel and keys. */
export function TrendCharts(props: TrendChartsProps) {
  const { loaded, window, zone, cursorMs, onCursor, onWindow, onHome } = props;
  const host = useRef<HTMLDivElement>(null);
  const [brush, onBrush] = useState<Stretch | null>(null);
  useGestures(host, { window, nowMs: gatewayNow, onWindow, onCursor, onBrush, onHome });
  const panels = panelsOf(loaded.series);
  const most = mostTicks(host.current);
  const times = timeTicks(window.fromMs, window.toMs, most, { zone });
  const shown = line.value;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would name a form
    <div
      class="tcharts"
      ref={host}
      role="group"
      aria-label={w.trendWords.keys}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the keys of the cursor need a place
      tabIndex={0}
      onKeyDown={(event) => {
        const done = ofKey(event.key, event.shiftKey, { window, cursorMs, nowMs: gatewayNow() });
        if (!done) return;
        event.preventDefault();
        if (done.cursorMs !== undefined) onCursor(done.cursorMs);
        if (done.window) onWindow(done.window);
      }}
    >
      {panels.map((panel, at) => (
        <TrendPanel
          key={`${panel.title}${panel.unit}`}
          title={panel.title}
          unit={panel.unit}
          series={panel.series}
          loaded={loaded}
          shown={window}
          heightRem={at === 0 ? 13 : 8}
          fills={loaded.fills ?? []}
          stands={loaded.stands}
          named={at === 0}
          cursorMs={cursorMs}
          brush={brush}
          now={(one) => (window.live && shown ? nowOf(shown, one) : null)}
          times={at === panels.length - 1 ? times : []}
          label={labelOf(panel)}
        />
      ))}
    </div>
  );
}
