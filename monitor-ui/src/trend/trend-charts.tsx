import { useRef, useState } from "preact/hooks";
import { gatewayNow } from "../data/now.ts";
import { line } from "../data/state.ts";
import type { Loaded } from "../data/trend.ts";
import { nowOf } from "./channels.ts";
import { CursorKeys } from "./cursor-keys.tsx";
import type { Stretch } from "./curve.ts";
import { useGestures } from "./gestures.ts";
import { panelsOf } from "./panels.ts";
import { rangeWords } from "./range-words.ts";
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
    <CursorKeys {...{ host, window, cursorMs, onCursor, onWindow }} nowMs={gatewayNow}>
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
          label={`${panel.title}. ${rangeWords(panel.series, panel.unit)}`}
        />
      ))}
    </CursorKeys>
  );
}
