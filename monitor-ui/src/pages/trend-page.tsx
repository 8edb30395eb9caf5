import { useEffect, useRef, useState } from "preact/hooks";
import { ChannelSheet } from "../components/channel-sheet.tsx";
import { Choices } from "../components/field.tsx";
import { FillLog } from "../components/fill-log.tsx";
import { Icon } from "../components/icon.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { TimeSheet } from "../components/time-sheet.tsx";
import { gatewayNow } from "../data/now.ts";
import { goTo, query, stayAt } from "../data/route.ts";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { type Loaded, loadTrend } from "../data/trend.ts";
import { isElsewhere } from "../format/locale.ts";
import { AtCursor } from "../trend/at-cursor.tsx";
import { type Channel, channelsOf, shownSeries, usualOf } from "../trend/channels.ts";
import { dayAndTime } from "../trend/time-axis.ts";
import { TrendBrush } from "../trend/trend-brush.tsx";
import { TrendCharts } from "../trend/trend-charts.tsx";
import { TrendFiles } from "../trend/trend-files.tsx";
import { lastHours, moved, ofLink, spanOf, toLink, type Window, zoomed } from "../trend/window.ts";
import { say, w } from "../words/words.ts";

const spans = [1, 6, 24, 168, 336, 2160] as const;
/** A window that a finger moves is asked for once it rests so long, ms. */
const restMs = 250;
const hourMs = 3_600_000;

/** The window of the link, and the one that a finger moves until it rests. */
function useWindow(show: string) {
  const [held, hold] = useState<Window | null>(null);
  const linked = ofLink(query.value, gatewayNowMs.value);
  useEffect(() => {
    if (!held) return;
    const timer = setTimeout(() => {
      stayAt("trend", { show, ...toLink(held) });
      hold(null);
    }, restMs);
    return () => clearTimeout(timer);
  }, [held]);
  return { window: held ?? linked, isMoving: held !== null, move: hold };
}

/** Loads what a window shows: anew once it rests, and each minute (or each hundredth of it) where it goes on with now. */
function useLoaded(channels: readonly Channel[], window: Window, isMoving: boolean): Loaded | null {
  const [loaded, take] = useState<Loaded | null>(null);
  const span = Math.round(spanOf(window));
  const often = Math.max(15_000, Math.min(60_000, span / 100));
  const when = window.live ? `${span} ${Math.floor(window.toMs / often)}` : `${window.fromMs} ${window.toMs}`;
  const asked = channels.map(({ key }) => key).join();
  const turns = useRef({ begun: 0, taken: 0 });
  useEffect(() => {
    if (isMoving) return;
    const own = turns.current;
    own.begun += 1;
    const turn = own.begun;
    // What a later turn asks for does not throw this away: while no answer comes, it would never say so.
    void loadTrend(channels, window, asked).then((all) => {
      if (turn < own.taken) return;
      own.taken = turn;
      take(all);
    });
  }, [asked, when, isMoving]);
  return loaded;
}

/** The page Trend: charts first; what is drawn, the numbers at the cursor and the fills of the time below. */
export function TrendPage() {
  const shown = line.value;
  const channels = shown ? channelsOf(shown) : [];
  const wanted = query.value.get("show")?.split(",").filter(Boolean) ?? usualOf(channels);
  const chosen = channels.filter(({ key }) => wanted.includes(key));
  const { window, isMoving, move } = useWindow(wanted.join());
  const got = useLoaded(chosen, window, isMoving);
  const [cursor, setCursor] = useState<number | null>(null);
  const [open, setOpen] = useState<"" | "channels" | "times">("");
  const zone = shown?.timezone;
  // What another choice drew must not stand under this one's name.
  const loaded = got && { ...got, series: got.series.filter(({ key }) => wanted.includes(key)) };
  const seen = loaded && { ...loaded, series: loaded.series.map(shownSeries) };
  const show = (keys: readonly string[], next: Window) =>
    goTo("trend", { show: keys.join(","), ...toLink(next) });
  const go = (next: Window) => {
    move(null);
    show(wanted, next);
  };
  const toggle = (key: string) =>
    show(wanted.includes(key) ? wanted.filter((other) => other !== key) : [...wanted, key], window);
  // Until a finger takes it, it stands at the newest that was loaded: now has no bucket yet.
  const newestMs = Math.min(window.toMs, loaded?.toMs ?? window.toMs) - 1;
  const cursorMs = Math.min(window.toMs, Math.max(window.fromMs, cursor ?? newestMs));
  return (
    <PageFrame
      title={w.frame.trend}
      beside={
        <span class="soft sm">
          {say(w.trendWords.to, {
            from: dayAndTime(window.fromMs, zone),
            to: window.live ? w.frame.now : dayAndTime(window.toMs, zone),
          })}
          {isElsewhere.value && ` · ${say(w.trendWords.houseTime, { zone: zone ?? "" })}`}
        </span>
      }
    >
      <section class="sheet trendsheet">
        <TimeBar window={window} go={go} openTimes={() => setOpen("times")} />
        {loaded === null ? (
          <p class="soft trend-wait">{lost.value ? w.trendWords.noContact : w.frame.loading}</p>
        ) : chosen.length === 0 ? (
          <p class="soft trend-wait">{w.trendWords.nothingChosen}</p>
        ) : (
          <TrendCharts
            loaded={seen ?? loaded}
            window={window}
            zone={zone}
            cursorMs={cursorMs}
            onCursor={setCursor}
            onWindow={move}
            onHome={() => go(lastHours(24, gatewayNow()))}
          />
        )}
        {loaded !== null && chosen.length > 0 && (
          <TrendBrush window={window} zone={zone} channel={chosen[0]} onWindow={move} />
        )}
        {loaded && loaded.missing.length > 0 && (
          <p class="problem">{say(w.trendWords.notLoaded, { what: loaded.missing.join(", ") })}</p>
        )}
        {chosen.length > 0 && (
          <>
            <Key />
            <p class="soft sm noprint">
              <span class="wide">{w.trendWords.hands}</span>
              <span class="narrow">{w.trendWords.handsTouch}</span>
            </p>
          </>
        )}
        <div class="acts">
          <button type="button" class="btn first" onClick={() => setOpen("channels")}>
            {w.trendWords.addOrTake}
          </button>
          {loaded && <TrendFiles loaded={loaded} title={shown?.title ?? ""} zone={zone} />}
        </div>
      </section>
      {loaded && loaded.series.length > 0 && (
        <AtCursor series={seen?.series ?? []} ms={cursorMs} zone={zone} toggle={toggle} />
      )}
      {loaded && <FillLog fills={loaded.fills} />}
      {open === "channels" && (
        <ChannelSheet channels={channels} chosen={wanted} toggle={toggle} onClose={() => setOpen("")} />
      )}
      {open === "times" && (
        <TimeSheet window={window} zone={zone} nowMs={gatewayNow()} choose={go} onClose={() => setOpen("")} />
      )}
    </PageFrame>
  );
}

/** "24 h", "14 days"; on a phone "14 d", so that all stand in one row. */
function SpanWords({ hours }: { readonly hours: number }) {
  if (hours <= 24) return <>{say(w.chart.hours, { count: hours })}</>;
  const count = hours / 24;
  return (
    <>
      <span class="wide">{say(w.chart.days, { count })}</span>
      <span class="narrow">{say(w.chart.daysShort, { count })}</span>
    </>
  );
}

/** How long, and where in time: what fingers and wheel do too. */
function TimeBar(props: { window: Window; go: (next: Window) => void; openTimes: () => void }) {
  const { window, go, openTimes } = props;
  const middle = (window.fromMs + window.toMs) / 2;
  const step = (words: string, name: "back" | "next", by: number) => (
    <button
      type="button"
      class="btn icon"
      aria-label={words}
      disabled={by > 0 && window.live}
      onClick={() => go(moved(window, by * spanOf(window), gatewayNow()))}
    >
      <Icon name={name} />
    </button>
  );
  return (
    <div class="timebar">
      <Choices
        label={w.chart.howLong}
        as="segments"
        choices={spans.map((value) => ({ value, words: <SpanWords hours={value} /> }))}
        chosen={window.live ? Math.round(spanOf(window) / hourMs) : null}
        choose={(hours) => go(lastHours(hours, gatewayNow()))}
      />
      <div class="acts">
        {step(w.trendWords.earlier, "back", -0.5)}
        {step(w.trendWords.later, "next", 0.5)}
        <button
          type="button"
          class="btn icon"
          aria-label={w.trendWords.zoomIn}
          onClick={() => go(zoomed(window, 0.5, window.live ? window.toMs : middle, gatewayNow()))}
        >
          +
        </button>
        <button
          type="button"
          class="btn icon"
          aria-label={w.trendWords.zoomOut}
          onClick={() => go(zoomed(window, 2, window.live ? window.toMs : middle, gatewayNow()))}
        >
          −
        </button>
        {!window.live && (
          <button
            type="button"
            class="btn"
            onClick={() => go(lastHours(spanOf(window) / hourMs, gatewayNow()))}
          >
            {w.trendWords.toNow}
          </button>
        )}
        <button type="button" class="btn" onClick={openTimes}>
          {w.trendWords.chooseDates}
        </button>
      </div>
    </div>
  );
}

function Key() {
  return (
    <div class="key" aria-hidden="true">
      <span>
        <i class="ke" />
        {w.trendWords.key.range}
      </span>
      <span>
        <i class="kf" />
        {w.trendWords.key.fill}
      </span>
      <span>
        <i class="kl" />
        {w.trendWords.key.limit}
      </span>
      <span>
        <i class="kg" />
        {w.trendWords.key.noData}
      </span>
      <span>
        <i class="kdoubt" />
        {w.trendWords.key.doubtful}
      </span>
      <span>
        <i class="ka" />
        {w.trendWords.key.alarm}
      </span>
    </div>
  );
}
