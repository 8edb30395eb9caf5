import type { NightLine } from "@drumlin/gateway/contract";
import { useRef } from "preact/hooks";
import { goTo } from "../../data/route.ts";
import { line } from "../../data/state.ts";
import { dayOfMonth, percentOf, spokenNight } from "../../format/night-words.ts";
import { limitFigure, unitOf } from "../../format/units.ts";
import { attentionWords } from "../../format/words.ts";
import { judgedPoint } from "../../line/judged-point.ts";
import { say, w } from "../../words/words.ts";
import { AlarmMark } from "../alarm-mark.tsx";
import { useScrollKept } from "./scroll-kept.ts";

/** A tenfold of the limit takes this much of the height, %; the limit itself stands at 36 %. */
const decadePercent = 27;
const limitPercent = 36;

/** The greatest κ25 that came from a point in a night; null where nothing did. */
function peakFrom(night: NightLine, point: string): number | null {
  const fed = new Set((line.value?.drums ?? []).filter(({ fedBy }) => fedBy === point).map(({ id }) => id));
  const peaks = night.drums.flatMap(({ drum, peak25 }) => (fed.has(drum) && peak25 !== null ? [peak25] : []));
  return peaks.length === 0 ? null : Math.max(...peaks);
}

function Quality({ night }: { readonly night: NightLine }) {
  const point = judgedPoint();
  const peak = point && peakFrom(night, point.id);
  if (!point || peak === null) return <span class="q" />;
  const top = limitPercent - decadePercent * Math.log10(Math.max(1e-6, peak) / point.limit);
  return (
    <span class="q">
      <i class={peak > point.limit ? "o" : ""} style={{ top: `${Math.min(92, Math.max(8, top))}%` }} />
    </span>
  );
}

/** Litres, each drum above the ones after it. */
function Made({ night, mostL }: { readonly night: NightLine; readonly mostL: number }) {
  const litres = night.drums.map((drum) => drum.litres ?? 0);
  return (
    <span class="v">
      {litres.map((_, index) => (
        <i
          key={night.drums[index]?.drum}
          style={{ height: `${(100 * litres.slice(index).reduce((sum, one) => sum + one, 0)) / mostL}%` }}
        />
      ))}
    </span>
  );
}

/** One column for each night, the newest on the right; arrow keys go from night to night. */
export function NightStrip({
  nights,
  date,
}: {
  /** Oldest first. */
  readonly nights: readonly NightLine[];
  readonly date: string | null;
}) {
  const wrap = useRef<HTMLDivElement>(null);
  useScrollKept(wrap, nights.at(-1)?.date, date);
  const mostL = Math.max(1, ...nights.map(({ litres }) => litres ?? 0)) * 1.08;
  const step = (by: number) => {
    const next = nights[nights.findIndex((night) => night.date === date) + by];
    if (next) {
      goTo("nights", { date: next.date });
      wrap.current?.querySelector<HTMLElement>(`.ncol[href$="${next.date}"]`)?.focus();
    }
    return next !== undefined;
  };
  const point = judgedPoint();
  return (
    <section class="sheet nightstrip">
      <div class="nwrap" ref={wrap}>
        {/* biome-ignore lint/a11y/noStaticElementInteractions: the links in it are what is focused */}
        <div
          class="nights"
          style={{ "--nights": String(nights.length) }}
          onKeyDown={(event) => {
            const by = event.key === "ArrowLeft" ? -1 : event.key === "ArrowRight" ? 1 : 0;
            if (by === 0 || !step(by)) return;
            event.preventDefault();
          }}
        >
          <div class="lbs" aria-hidden="true">
            <span class="lb">{w.nightWords.litresMade}</span>
            <span class="lb">
              {point ? `${point.title}, ${unitOf("conductivity25")}` : w.nightWords.quality}
            </span>
            <span class="lb">{w.nightWords.watched}</span>
            <span class="lb">{w.nightWords.trouble}</span>
            <span class="lb">{w.nightWords.nightOf}</span>
          </div>
          {nights.map((night) => (
            <a
              key={night.date}
              class="ncol"
              href={`#nights?date=${night.date}`}
              aria-current={night.date === date ? "true" : undefined}
              aria-label={spokenNight(night)}
            >
              <Made night={night} mostL={mostL} />
              <Quality night={night} />
              <span class="s">
                <i style={{ height: `${percentOf(night.watched)}%` }} />
              </span>
              <span class="tr">{night.attention && <AlarmMark attention={night.attention} />}</span>
              <span class="d">{dayOfMonth(night.date)}</span>
            </a>
          ))}
        </div>
      </div>
      <div class="key" aria-hidden="true">
        {(line.value?.drums ?? []).slice(0, 2).map(({ id, title }, index) => (
          <span key={id}>
            <i class={index === 0 ? "kf" : "kd"} />
            {title.replace(/ drum$/i, "")}
          </span>
        ))}
        {point && (
          <span>
            <i class="kl" />
            {say(w.point.limitOf, { value: limitFigure(point.limit, "uS/cm") })}
          </span>
        )}
        <span>
          <i class="kg" />
          {w.nightWords.notWatched}
        </span>
        {(["wake", "tell", "today"] as const).map((attention) => (
          <span key={attention}>
            <AlarmMark attention={attention} />
            {attentionWords(attention)}
          </span>
        ))}
      </div>
    </section>
  );
}
