import type { Buckets } from "@drumlin/gateway/contract";
import type { ComponentChildren } from "preact";
import { Tick } from "../../charts/tick.tsx";
import { say, w } from "../../words/words.ts";

/** What all panels of one fill share: the time that they show. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

interface PanelProps {
  readonly title: string;
  readonly unit: string;
  readonly now: string;
  readonly label: string;
  readonly buckets: Buckets;
  readonly span: Span;
  /** Bottom and top of the axis, in the unit; on a log axis both over 0. */
  readonly scale: readonly [number, number];
  readonly isLog?: boolean;
  /** What stands beside the axis. */
  readonly marks: readonly number[];
  /** A value beside the axis, in the unit that is shown. */
  readonly words: (value: number) => string;
  readonly as: "area" | "line";
  readonly limit?: number | null;
  readonly heightRem: number;
  /** Times under it, at the last of the panels. */
  readonly times?: readonly { readonly atMs: number; readonly text: string }[];
  /** Uprights, hatching. */
  readonly children?: ComponentChildren;
}

/** Where a time stands in a span, %. */
export const percentAt = ({ fromMs, toMs }: Span, ms: number) =>
  Math.min(100, Math.max(0, (100 * (ms - fromMs)) / (toMs - fromMs)));

/** Stretches without a reading, wider than two buckets. */
function emptyStretches({ t, count, bucketMs }: Buckets): readonly Span[] {
  const found: { fromMs: number; toMs: number }[] = [];
  t.forEach((ms, index) => {
    if (count[index] !== 0) return;
    const last = found.at(-1);
    if (last && last.toMs === ms) last.toMs = ms + bucketMs;
    else found.push({ fromMs: ms, toMs: ms + bucketMs });
  });
  return found.filter(({ fromMs, toMs }) => toMs - fromMs >= Math.max(2 * bucketMs, 90_000));
}

/** Pieces of a line between gaps, as [x, y] of 1000 × 100. */
function piecesOf(
  { t, mean, bucketMs }: Buckets,
  span: Span,
  y: (value: number) => number,
): readonly (readonly (readonly [number, number])[])[] {
  const pieces: [number, number][][] = [];
  let lastMs = Number.NEGATIVE_INFINITY;
  t.forEach((ms, index) => {
    const value = mean[index];
    if (value == null) return;
    const point: [number, number] = [10 * percentAt(span, ms + bucketMs / 2), y(value)];
    if (ms - lastMs > Math.max(3 * bucketMs, 90_000) || pieces.length === 0) pieces.push([point]);
    else pieces.at(-1)?.push(point);
    lastMs = ms;
  });
  return pieces;
}

const pathOf = (piece: readonly (readonly [number, number])[]) =>
  piece.map(([x, y], index) => `${index === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");

/** One quantity over one fill: labels are text, the curve is drawn, what was not heard is hatched. */
export function Panel(props: PanelProps) {
  const { title, unit, now, label, buckets, span, scale, isLog, marks, as, limit, heightRem, times } = props;
  const place = (value: number) => (isLog ? Math.log10(Math.max(value, 1e-6)) : value);
  const [bottom, top] = scale.map(place) as [number, number];
  const y = (value: number) =>
    100 - Math.min(100, Math.max(0, (100 * (place(value) - bottom)) / (top - bottom)));
  const pieces = piecesOf(buckets, span, y);
  return (
    <div class="panel" role="img" aria-label={label}>
      <div class="ttl">
        <b>{title}</b> <span>{unit}</span>
        <span class="now">{now}</span>
      </div>
      <div class="y">
        {marks.map((value) => (
          <span key={value} style={{ top: `${y(value)}%` }}>
            {props.words(value)}
          </span>
        ))}
      </div>
      <div class="plot" style={{ height: `${heightRem}rem` }}>
        <svg viewBox="0 0 1000 100" preserveAspectRatio="none" aria-hidden="true">
          {marks.map((value) => (
            <path key={value} class="g" d={`M0 ${y(value)}H1000`} />
          ))}
          {times?.map(({ atMs }) => (
            <path key={atMs} class="g" d={`M${10 * percentAt(span, atMs)} 0V100`} />
          ))}
          {pieces.map((piece) =>
            as === "area" ? (
              <path
                key={piece[0]?.[0]}
                class="step"
                d={`${pathOf(piece)}V100H${(piece[0]?.[0] ?? 0).toFixed(1)}Z`}
              />
            ) : (
              <path key={piece[0]?.[0]} class="ln" d={pathOf(piece)} />
            ),
          )}
          {limit != null && <path class="lim" d={`M0 ${y(limit)}H1000`} />}
        </svg>
        {limit != null && (
          <span class="limt" style={{ top: `${y(limit)}%` }}>
            {say(w.point.limitOf, { value: props.words(limit) })}
          </span>
        )}
        {emptyStretches(buckets).map(({ fromMs, toMs }) => (
          <i
            key={fromMs}
            class="gap"
            style={{
              left: `${percentAt(span, fromMs)}%`,
              width: `${percentAt(span, toMs) - percentAt(span, fromMs)}%`,
            }}
          />
        ))}
        {props.children}
      </div>
      <div class="x">
        {times?.map(({ atMs, text }) => (
          <Tick key={atMs} at={percentAt(span, atMs)} words={text} />
        ))}
      </div>
    </div>
  );
}
