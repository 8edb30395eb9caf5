import type { FillView } from "@drumlin/gateway/contract";
import { useMemo } from "preact/hooks";
import { Tick } from "../charts/tick.tsx";
import { AlarmMark } from "../components/alarm-mark.tsx";
import { titleOf } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { asSet } from "../format/numbers.ts";
import { volume } from "../format/units.ts";
import { say, w } from "../words/words.ts";
import { axisOf } from "./axis.ts";
import { type Series, unitWords } from "./channels.ts";
import { bucketAt, curveOn, doubtfulIn, emptyIn, rangeOf, type Stretch } from "./curve.ts";
import type { Stand } from "./stands.ts";

/** Where a time stands in a stretch, %, cut at its ends. */
const percent = ({ fromMs, toMs }: Stretch, ms: number) =>
  Math.min(100, Math.max(0, (100 * (ms - fromMs)) / (toMs - fromMs)));

export interface TrendPanelProps {
  readonly title: string;
  readonly unit: string;
  readonly series: readonly Series[];
  /** The time that was loaded, and the time that is shown: not the same while a finger moves it. */
  readonly loaded: Stretch;
  readonly shown: Stretch;
  readonly heightRem: number;
  readonly fills: readonly FillView[];
  readonly stands: readonly Stand[];
  /** Names of fills and alarms stand in the first panel only. */
  readonly named: boolean;
  readonly cursorMs: number | null;
  /** What is being marked to be looked at closer. */
  readonly brush?: Stretch | null;
  /** What each series says now, for the live end. */
  readonly now: (series: Series) => { readonly ms: number; readonly value: number } | null;
  /** Under the panel; empty where another one below has them. */
  readonly times: readonly { readonly ms: number; readonly words: string }[];
  /** What it shows, for whoever can't see it. */
  readonly label: string;
  /** It has one line, and the title says what that is. */
  readonly isAlone?: boolean;
}

/** One unit over the time: lowest to highest as a band, the mean on it, gaps hatched, fills and alarms marked. */
export function TrendPanel(props: TrendPanelProps) {
  const { title, unit, series, loaded, shown, heightRem, cursorMs, times, label, isAlone = false } = props;
  const drawn = useMemo(() => {
    const limits = [...new Set(series.flatMap(({ limit }) => (limit === null ? [] : [limit])))];
    const range = rangeOf(series.map(({ buckets }) => buckets));
    const all = [range?.low ?? 0, range?.high ?? 1, ...limits];
    const axis = axisOf(Math.min(...all), Math.max(...all), unit);
    return {
      axis,
      limits,
      isEmpty: range === null,
      curves: series.map(({ buckets }) => curveOn(buckets, axis, loaded)),
      gaps: emptyIn(series.map(({ buckets }) => buckets)),
      doubts: series.flatMap(({ buckets }) => doubtfulIn(buckets)),
    };
  }, [series, loaded, unit]);
  const { axis, curves, limits } = drawn;
  const left = ((shown.fromMs - loaded.fromMs) / (loaded.toMs - loaded.fromMs)) * 1000;
  const width = ((shown.toMs - shown.fromMs) / (loaded.toMs - loaded.fromMs)) * 1000;
  const box = ({ fromMs, toMs }: Stretch) => ({
    left: `${percent(shown, fromMs)}%`,
    width: `${percent(shown, toMs) - percent(shown, fromMs)}%`,
  });
  const isIn = ({ fromMs, toMs }: Stretch) => fromMs < shown.toMs && toMs > shown.fromMs;
  return (
    <div class="panel" role="img" aria-label={label}>
      <div class="ttl">
        <b>{title}</b>{" "}
        <span>
          {unitWords(unit)}
          {axis.isLog ? w.trendWords.byDecades : ""}
        </span>
        {!isAlone && <Names series={series} />}
      </div>
      <div class="y" style={{ height: `${heightRem}rem` }}>
        {axis.ticks.map(({ value, words }) => (
          <span key={words} style={{ top: `${axis.y(value) * 100}%` }}>
            {words}
          </span>
        ))}
      </div>
      <div class="plot" style={{ height: `${heightRem}rem` }}>
        <Fills {...props} />
        {drawn.gaps.filter(isIn).map((gap) => (
          <i key={gap.fromMs} class="gap" style={box(gap)} />
        ))}
        <svg viewBox={`${left} 0 ${width} 1000`} preserveAspectRatio="none" aria-hidden="true">
          {axis.ticks.map(({ value, words }) => (
            <path key={words} class="g" d={`M-1000 ${axis.y(value) * 1000}H2000`} />
          ))}
          {curves.map(({ band }, at) => (
            <path key={series[at]?.key} class={`env s${at + 1}`} d={band} />
          ))}
          {curves.map(({ mean }, at) => (
            <path key={series[at]?.key} class={`ln s${at + 1}`} d={mean} />
          ))}
          {series.map((one, at) => (
            <LiveEnd key={one.key} {...props} series={one} at={at} y={axis.y} />
          ))}
          {limits.map((limit) => (
            <path key={limit} class="lim" d={`M-1000 ${axis.y(limit) * 1000}H2000`} />
          ))}
        </svg>
        {limits.map((limit) => (
          <span key={limit} class="limt" style={{ top: `${axis.y(limit) * 100}%` }}>
            {say(w.point.limitOf, { value: asSet(Number(limit.toPrecision(3))) })}
          </span>
        ))}
        {drawn.doubts.filter(isIn).map((doubt) => (
          <i key={doubt.fromMs} class="doubt" style={box(doubt)} />
        ))}
        <Alarms {...props} />
        {props.brush && <i class="brush" style={box(props.brush)} />}
        {drawn.isEmpty && <span class="bk">{w.trendWords.nothingInTime}</span>}
        {cursorMs !== null && cursorMs >= shown.fromMs && cursorMs <= shown.toMs && (
          <span class="cur" style={{ left: `${percent(shown, cursorMs)}%` }}>
            {series.map(({ key, buckets }) => {
              const bucket = bucketAt(buckets, cursorMs);
              return bucket && <b key={key} style={{ top: `${axis.y(bucket.mean) * 100}%` }} />;
            })}
          </span>
        )}
      </div>
      {times.length > 0 && (
        <div class="x">
          {times.map(({ ms, words }) => (
            <Tick key={ms} at={percent(shown, ms)} words={words} />
          ))}
        </div>
      )}
    </div>
  );
}

/** Which line is which. */
function Names({ series }: Pick<TrendPanelProps, "series">) {
  return (
    <span class="names">
      {series.map(({ key, title }, at) => (
        <span key={key}>
          <svg viewBox="0 0 28 8" aria-hidden="true">
            <path class={`ln s${at + 1}`} d="M0 4h28" />
          </svg>
          {title}
        </span>
      ))}
    </span>
  );
}

/** From the last bucket to what is said now. */
function LiveEnd(
  props: Omit<TrendPanelProps, "series"> & { series: Series; at: number; y: (value: number) => number },
) {
  const { series, at, y, loaded, now } = props;
  const said = now(series);
  const last = series.buckets.mean.findLastIndex((value) => value !== null);
  const lastMs = (series.buckets.t[last] ?? 0) + series.buckets.bucketMs / 2;
  const value = series.buckets.mean[last];
  if (!said || value == null || said.ms <= lastMs || said.ms - lastMs > 3 * series.buckets.bucketMs + 120_000)
    return null;
  const x = (ms: number) => ((ms - loaded.fromMs) / (loaded.toMs - loaded.fromMs)) * 1000;
  return (
    <path
      class={`ln live s${at + 1}`}
      d={`M${x(lastMs)} ${y(value) * 1000}L${x(said.ms)} ${y(said.value) * 1000}`}
    />
  );
}

/** Fills as pale bands; the first panel names those that are wide enough. */
function Fills({ fills, shown, named }: TrendPanelProps) {
  return (
    <>
      {fills.map(({ id, drum, startedAt, endedAt, litres }) => {
        const [from, to] = [Date.parse(startedAt), endedAt === null ? shown.toMs : Date.parse(endedAt)];
        const [left, right] = [percent(shown, from), percent(shown, to)];
        if (from >= shown.toMs || to <= shown.fromMs) return null;
        return (
          <i key={id} class="fill" style={{ left: `${left}%`, width: `max(2px, ${right - left}%)` }}>
            {named && right - left > 12 && (
              <span>
                {titleOf(drum)}
                {litres === null ? "" : `, ${volume(litres)}`}
              </span>
            )}
          </i>
        );
      })}
    </>
  );
}

/** Alarms: an upright where raised, a bar on top for as long as it stood; names where they do not run into each other. */
function Alarms({ stands, shown, named }: TrendPanelProps) {
  const rows: number[] = [];
  let namedUntil = Number.NEGATIVE_INFINITY;
  return (
    <>
      {stands.map((stand) => {
        const to = stand.toMs ?? shown.toMs;
        if (stand.fromMs >= shown.toMs || to <= shown.fromMs) return null;
        const [left, right] = [percent(shown, stand.fromMs), percent(shown, to)];
        const free = rows.findIndex((end) => end <= left);
        const row = free < 0 ? rows.length : free;
        rows[row] = right;
        const isRaisedHere = stand.fromMs >= shown.fromMs;
        const hasName = named && isRaisedHere && left > namedUntil;
        if (hasName) namedUntil = left + 26;
        return (
          <span key={`${stand.key}${stand.fromMs}`} class={stand.attention}>
            <i
              class="ab"
              style={{ left: `${left}%`, width: `max(3px, ${right - left}%)`, top: `${row * 7}px` }}
            />
            {isRaisedHere && stand.attention !== "record" && (
              <span class={left > 60 ? "mark lft" : "mark"} style={{ left: `${left}%` }}>
                <AlarmMark attention={stand.attention} />
                {hasName && <span>{headlineOf(stand.alarm)}</span>}
              </span>
            )}
          </span>
        );
      })}
    </>
  );
}
