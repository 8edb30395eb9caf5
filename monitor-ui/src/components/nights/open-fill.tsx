import type { Buckets, FillView, NightView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { seriesOfFill } from "../../data/nights.ts";
import { line, titleOf } from "../../data/state.ts";
import { percentOf, timeIn } from "../../format/night-words.ts";
import { asSet, figure, whole } from "../../format/numbers.ts";
import {
  conductivity25,
  flow,
  fromShown,
  toShown,
  unitOf,
  volume,
  volumeFigure,
} from "../../format/units.ts";
import { capital } from "../../format/words.ts";
import { say, w } from "../../words/words.ts";
import { howItEnded } from "../fill-log.tsx";
import { Panel, percentAt, type Span } from "./panel.tsx";

interface Curves {
  readonly level: Buckets | null;
  readonly inflow: Buckets | null;
  readonly kappa: Buckets | null;
}

const has = (buckets: Buckets | null): buckets is Buckets =>
  buckets?.count.some((count) => count > 0) ?? false;
const known = (values: readonly (number | null)[]) => values.filter((value) => value !== null);

/** The time that is shown: the fill, 12 % of its length before it and 30 % after it; one under 5 min counts as 5 min long. */
function spanOf({ startedAt, endedAt }: FillView): Span {
  const fromMs = Date.parse(startedAt);
  const toMs = endedAt === null ? Date.now() : Date.parse(endedAt);
  const lastedMs = Math.max(300_000, toMs - fromMs);
  return { fromMs: fromMs - lastedMs * 0.12, toMs: toMs + lastedMs * 0.3 };
}

/** Round times, 9 at most, in the zone of the house. */
function timesOf({ fromMs, toMs }: Span, zone: string) {
  const stepMs =
    [1, 2, 5, 10, 15, 30, 60, 120, 240].find((minutes) => (toMs - fromMs) / (minutes * 60_000) <= 8) ?? 480;
  const first = Math.ceil(fromMs / (stepMs * 60_000));
  const count = Math.floor(toMs / (stepMs * 60_000)) - first + 1;
  return Array.from({ length: Math.max(0, count) }, (_, index) => {
    const atMs = (first + index) * stepMs * 60_000;
    return { atMs, text: timeIn(zone, new Date(atMs).toISOString()) };
  });
}

/** A round figure at or over a value: 1, 2, 5 times a power of ten. */
function roundUp(value: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(value, 1e-6)));
  return ([1, 2, 5, 10].find((times) => times * power >= value) ?? 10) * power;
}

async function load(fill: FillView, span: Span): Promise<Curves> {
  const drum = line.value?.drums.find(({ id }) => id === fill.drum);
  const { fromMs, toMs } = span;
  const point = drum?.fedBy;
  const [level, own, past, kappa] = await Promise.all([
    seriesOfFill("drums", fill.drum, "volume", fromMs, toMs),
    seriesOfFill("drums", fill.drum, "flow", fromMs, toMs),
    point === undefined ? null : seriesOfFill("points", point, "flow", fromMs, toMs),
    point === undefined ? null : seriesOfFill("points", point, "conductivity25", fromMs, toMs),
  ]);
  return { level, inflow: has(own) ? own : past, kappa };
}

function FloatMarks({ night, fill, span }: { night: NightView; fill: FillView; span: Span }) {
  return (
    <>
      {night.floats
        .filter(
          ({ drum, at }) =>
            drum === fill.drum && Date.parse(at) >= span.fromMs && Date.parse(at) <= span.toMs,
        )
        .map(({ at, role, wet, litres }) => {
          const left = percentAt(span, Date.parse(at));
          return (
            <span key={`${role} ${at}`} class={left > 60 ? "flm l" : "flm"} style={{ left: `${left}%` }}>
              <span>
                {say(w.nightWords.roleState, {
                  role: Object.hasOwn(w.drum.roles, role)
                    ? w.drum.roles[role as keyof typeof w.drum.roles]
                    : role,
                  state: wet ? w.drum.states.wet : w.drum.states.dry,
                })}
                {litres === null ? "" : `, ${volume(litres)}`}
              </span>
            </span>
          );
        })}
    </>
  );
}

function Unwatched({ night, span }: { night: NightView; span: Span }) {
  return (
    <>
      {night.unwatched.map(({ from, to, who }) => {
        const left = percentAt(span, Date.parse(from));
        const right = percentAt(span, to === null ? span.toMs : Date.parse(to));
        return right > left ? (
          <i
            key={`${who} ${from}`}
            class="gap"
            style={{ left: `${left}%`, width: `${right - left}%` }}
            title={say(w.nightWords.notHeardTitle, { who })}
          />
        ) : null;
      })}
    </>
  );
}

/** What came in, and how it ended. */
function Outcome({ fill }: { readonly fill: FillView }) {
  return (
    <p class="sm soft after">
      {fill.litres === null
        ? w.nightWords.litresUnknownSentence
        : say(w.nightWords.cameIn, { volume: volume(fill.litres) })}{" "}
      {capital(howItEnded(fill))}.{fill.revision > 0 && ` ${w.nightWords.again}`}
    </p>
  );
}

/** The curves of a fill; null until they are here. */
function useCurves(fill: FillView, span: Span): Curves | null {
  const [curves, take] = useState<Curves | null>(null);
  useEffect(() => {
    let over = false;
    take(null);
    void load(fill, span).then((loaded) => !over && take(loaded));
    return () => {
      over = true;
    };
  }, [fill.id, fill.endedAt]);
  return curves;
}

/** One fill: level, inflow and conductivity on one axis of time, with the floats' marks and what nobody watched. */
export function OpenFill({ night, fill }: { readonly night: NightView; readonly fill: FillView }) {
  const span = spanOf(fill);
  const curves = useCurves(fill, span);
  const drum = line.value?.drums.find(({ id }) => id === fill.drum);
  const point = line.value?.points.find(({ id }) => id === drum?.fedBy);
  const { timezone } = night;
  const title = `${titleOf(fill.drum)}, ${say(w.nightWords.fromTo, {
    from: timeIn(timezone, fill.startedAt),
    to: fill.endedAt === null ? w.frame.now : timeIn(timezone, fill.endedAt),
  })}`;
  const times = timesOf(span, timezone);
  const { level, inflow, kappa } = curves ?? { level: null, inflow: null, kappa: null };
  const capacity = drum?.capacity ?? 200;
  const litres = level ? known(level.mean) : [];
  const flowTop = inflow ? roundUp(toShown("flow", Math.max(1, ...known(inflow.max)))) : 1;
  const greatest = kappa ? Math.max(...known(kappa.max), point?.limit ?? 0) : 1;
  const kappaTop = Math.max(10, 10 ** Math.ceil(Math.log10(toShown("conductivity25", greatest))));
  const last = has(kappa) ? "kappa" : has(inflow) ? "inflow" : "level";
  const marks = <FloatMarks night={night} fill={fill} span={span} />;
  const gaps = <Unwatched night={night} span={span} />;
  return (
    <section class="sheet" id="fill">
      <div class="plate-h">
        <h2>{title}</h2>
        <span class="soft">{say(w.nightWords.watchedPercent, { percent: percentOf(fill.watched) })}</span>
      </div>
      {curves === null && <p class="soft">{w.frame.loading}</p>}
      {curves !== null && ![level, inflow, kappa].some(has) && (
        <p class="soft">{w.nightWords.nothingDrawn}</p>
      )}
      {has(level) && (
        <Panel
          title={w.nightWords.level}
          unit={unitOf("volume")}
          now={`${volumeFigure(litres[0] ?? 0)} → ${volume(Math.max(...litres))}`}
          label={say(w.nightWords.levelFromTo, {
            from: volumeFigure(litres[0] ?? 0),
            to: volume(Math.max(...litres)),
          })}
          buckets={level}
          span={span}
          scale={[0, capacity]}
          marks={[0, capacity / 2, capacity]}
          words={volumeFigure}
          as="area"
          heightRem={7}
          times={last === "level" ? times : []}
        >
          {marks}
          {gaps}
        </Panel>
      )}
      {has(inflow) && (
        <Panel
          title={w.nightWords.inflow}
          unit={unitOf("flow")}
          now={say(w.nightWords.upTo, {
            value: whole(toShown("flow", Math.max(...known(inflow.mean))), 1),
          })}
          label={say(w.nightWords.inflowUpTo, { value: flow(Math.max(...known(inflow.mean))) })}
          buckets={inflow}
          span={span}
          scale={[0, fromShown("flow", flowTop)]}
          marks={[0, flowTop / 2, flowTop].map((value) => fromShown("flow", value))}
          words={(value) => asSet(toShown("flow", value))}
          as="line"
          heightRem={4.5}
          times={last === "inflow" ? times : []}
        >
          {!has(level) && marks}
          {gaps}
        </Panel>
      )}
      {has(kappa) && (
        <Panel
          title={say(w.nightWords.at25, { title: point?.title ?? w.nightWords.conductivity })}
          unit={say(w.nightWords.logScale, { unit: unitOf("conductivity25") })}
          now={
            fill.peak25 === null
              ? ""
              : say(w.nightWords.highest, { value: figure(toShown("conductivity25", fill.peak25)) })
          }
          label={say(w.nightWords.conductivityUpTo, { value: conductivity25(greatest) })}
          buckets={kappa}
          span={span}
          scale={[fromShown("conductivity25", 0.1), fromShown("conductivity25", kappaTop)]}
          isLog
          marks={[0.1, 1, 10, 100, 1000]
            .filter((value) => value <= kappaTop)
            .map((value) => fromShown("conductivity25", value))}
          words={(value) => asSet(toShown("conductivity25", value))}
          as="line"
          limit={point?.limit ?? null}
          heightRem={8.5}
          times={times}
        >
          {!has(level) && !has(inflow) && marks}
          {gaps}
        </Panel>
      )}
      <Outcome fill={fill} />
    </section>
  );
}
