import type { Buckets } from "@drumlin/gateway/contract";
import { useEffect, useRef, useState } from "preact/hooks";
import { seriesBetween } from "../data/lists.ts";
import { gatewayNow } from "../data/now.ts";
import { say, w } from "../words/words.ts";
import { axisOf } from "./axis.ts";
import { type Grip, gripped, keyed, stripOf } from "./brush-span.ts";
import type { Channel } from "./channels.ts";
import { curveOn, rangeOf, type Stretch } from "./curve.ts";
import { dayAndTime } from "./time-axis.ts";
import type { Window } from "./window.ts";

interface TrendBrushProps {
  readonly window: Window;
  readonly zone: string | undefined;
  /** What its curve is of. */
  readonly channel: Channel | undefined;
  readonly onWindow: (next: Window) => void;
}

/** Enough for a curve of a hand's breadth. */
const buckets = 200;
const dayMs = 86_400_000;

/** The curve in the strip; asked for anew where it would have moved by a bucket. */
function useCurve(channel: Channel | undefined, strip: Stretch): Buckets | null {
  const [loaded, take] = useState<{ readonly key: string; readonly found: Buckets | null } | null>(null);
  const spanMs = Math.round(strip.toMs - strip.fromMs);
  const turn = Math.floor(strip.toMs / (spanMs / buckets));
  const key = channel?.key;
  useEffect(() => {
    let isOld = false;
    if (channel)
      void seriesBetween(
        channel.kind,
        channel.id,
        channel.quantity,
        Math.floor(strip.fromMs),
        Math.ceil(strip.toMs),
        buckets,
      ).then((found) => !isOld && take({ key: channel.key, found }));
    return () => {
      isOld = true;
    };
  }, [key, spanMs, turn]);
  return loaded !== null && loaded.key === key ? loaded.found : null;
}

function Curve({ found, channel, strip }: { found: Buckets; channel: Channel; strip: Stretch }) {
  const range = rangeOf([found]);
  if (!range) return null;
  const { band, mean } = curveOn(found, axisOf(range.low, range.high, channel.unit), strip);
  return (
    <svg viewBox="0 0 1000 1000" preserveAspectRatio="none" aria-hidden="true">
      <path class="env" d={band} />
      <path class="ln" d={mean} />
    </svg>
  );
}

/** The time that is shown within a longer one: its two ends are moved by finger or by arrow keys, and the whole by dragging it. */
export function TrendBrush({ window, zone, channel, onWindow }: TrendBrushProps) {
  const box = useRef<HTMLDivElement>(null);
  // While it is held it spans what it did: nothing slides away under the finger.
  const [held, hold] = useState<{ grip: Grip; strip: Stretch; offMs: number } | null>(null);
  const nowMs = gatewayNow();
  const strip = held?.strip ?? stripOf(window, nowMs);
  const found = useCurve(channel, strip);
  const span = strip.toMs - strip.fromMs;
  const percent = (ms: number) => Math.min(100, Math.max(0, (100 * (ms - strip.fromMs)) / span));
  const timeAt = (clientX: number) => {
    const rect = box.current?.getBoundingClientRect();
    return rect && rect.width > 0 ? strip.fromMs + ((clientX - rect.left) / rect.width) * span : null;
  };
  const begin = (grip: Grip) => (event: PointerEvent) => {
    const ms = timeAt(event.clientX);
    if (event.button !== 0 || ms === null) return;
    event.preventDefault();
    event.stopPropagation();
    const element = event.currentTarget as HTMLElement;
    element.setPointerCapture(event.pointerId);
    element.focus();
    hold({ grip, strip, offMs: ms - (grip === "to" ? window.toMs : window.fromMs) });
  };
  const move = (event: PointerEvent) => {
    const ms = timeAt(event.clientX);
    if (held && ms !== null) onWindow(gripped(window, held.grip, ms - held.offMs, { strip, nowMs }));
  };
  const end = () => hold(null);
  const handle = (grip: "from" | "to", label: string) => {
    const atMs = grip === "from" ? window.fromMs : window.toMs;
    return (
      <div
        class={`grip ${grip}`}
        style={{ left: `${percent(atMs)}%` }}
        role="slider"
        tabIndex={0}
        aria-label={label}
        aria-valuemin={Math.round(strip.fromMs / 60_000)}
        aria-valuemax={Math.round(strip.toMs / 60_000)}
        aria-valuenow={Math.round(atMs / 60_000)}
        aria-valuetext={dayAndTime(atMs, zone)}
        onPointerDown={begin(grip)}
        onPointerMove={move}
        onPointerUp={end}
        onPointerCancel={end}
        onKeyDown={(event) => {
          const to = keyed(event.key, event.shiftKey, { atMs, strip });
          if (to === null) return;
          event.preventDefault();
          onWindow(gripped(window, grip, to, { strip, nowMs }));
        }}
      />
    );
  };
  return (
    <div class="brush-strip noprint">
      <div class="brush-box" ref={box}>
        {found && channel && <Curve found={found} channel={channel} strip={strip} />}
        <div
          class="shown"
          style={{
            left: `${percent(window.fromMs)}%`,
            width: `${percent(window.toMs) - percent(window.fromMs)}%`,
          }}
          onPointerDown={begin("whole")}
          onPointerMove={move}
          onPointerUp={end}
          onPointerCancel={end}
        />
        {handle("from", w.trendWords.brushFrom)}
        {handle("to", w.trendWords.brushTo)}
      </div>
      <div class="axis" aria-hidden="true">
        <span>{dayAndTime(strip.fromMs, zone)}</span>
        <span>
          {span <= dayMs
            ? say(w.chart.hours, { count: 24 })
            : say(w.chart.days, { count: Math.round(span / dayMs) })}
        </span>
        <span>{w.frame.now}</span>
      </div>
    </div>
  );
}
