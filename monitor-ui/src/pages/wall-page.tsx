import type { DrumView, LineView } from "@drumlin/gateway/contract";
import { useEffect } from "preact/hooks";
import { AlarmMark } from "../components/alarm-mark.tsx";
import { Critical, isCritical } from "../components/critical.tsx";
import { orderedAlarms } from "../data/alarm-order.ts";
import { hasEnded, isStanding, unseen } from "../data/alarm-state.ts";
import { alarms, gatewayNowMs, line, lost } from "../data/state.ts";
import { litresOf, wordOf } from "../format/drum-facts.ts";
import { headlineOf } from "../format/headlines.ts";
import { locale, zone } from "../format/locale.ts";
import { lostSince } from "../format/lost-since.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { toShown, unitOf, volume, volumeFigure } from "../format/units.ts";
import { verdictWords } from "../format/words.ts";
import { lookNow } from "../line/look-now.ts";
import { pictureOf } from "../line/picture.ts";
import { say, w } from "../words/words.ts";

/** Keeps the screen on while the page is shown; where the browser can't, it sleeps as it is set. */
function useWakeLock(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | null = null;
    let isOver = false;
    const take = async () => {
      if (document.hidden) return;
      try {
        lock = await navigator.wakeLock.request("screen");
        if (isOver) await lock.release();
      } catch {
        // Not every browser has it, or the battery is low.
      }
    };
    void take();
    document.addEventListener("visibilitychange", take);
    return () => {
      isOver = true;
      document.removeEventListener("visibilitychange", take);
      void lock?.release();
    };
  }, []);
}

/** The line for a screen on the wall, read from 3 m: one tap leads back to Line. */
export function WallPage() {
  useWakeLock();
  const shown = line.value;
  const full = () => void document.documentElement.requestFullscreen?.().catch(() => undefined);
  const isFlooding = alarms.value.some(isCritical);
  const now = new Date(gatewayNowMs.value);
  return (
    <main class={lost.value ? "board old" : "board"}>
      <div>
        <div class="wh">
          <a href="/#">
            <h1>{shown?.title ?? "Drumlin"}</h1>
            {shown?.simulated && <span class="tag sim">{w.frame.simulated}</span>}
          </a>
          <span>
            <button type="button" class="btn plain" onClick={full}>
              {w.moreWords.fullScreen}
            </button>
            {clock(now.toISOString(), now.getTime())}{" "}
            <span class="soft">
              {now.toLocaleDateString(locale.value, {
                weekday: "short",
                day: "numeric",
                month: "short",
                timeZone: zone.value,
              })}
            </span>
          </span>
        </div>
        {lost.value && <Lost />}
        {!isFlooding && <FirstAlarm />}
      </div>
      {isFlooding ? (
        <Critical />
      ) : shown?.drums.length === 0 && shown.points.length === 0 ? (
        <p class="wnone">{w.next.nothingDrawn}</p>
      ) : (
        <div class="wd" style={{ "--n": String(Math.min(3, Math.max(2, shown?.drums.length ?? 2))) }}>
          {shown?.drums.map((drum) => (
            <WallDrum key={drum.id} drum={drum} />
          ))}
        </div>
      )}
      {shown && <Points line={shown} />}
    </main>
  );
}

/** Since when nothing was heard; each word of the stream changes that time, and only a page without contact shows it. */
function Lost() {
  return (
    <div class="bar-lost">
      <b>{lostSince()}</b> {w.moreWords.lostHere}
    </div>
  );
}

/** The most urgent alarm by name, the others by their number. */
function FirstAlarm() {
  const [first, ...others] = orderedAlarms(alarms.value, [], false).filter(({ state }) => isStanding(state));
  if (!first) return null;
  return (
    <a class={`wa ${first.attention} ${hasEnded(first) || !unseen(first) ? "quiet" : ""}`} href="#alarms">
      <AlarmMark attention={first.attention} />
      <span>
        {headlineOf(first)}
        {others.length > 0 ? ` · ${say(w.alarmWords.andMore, { count: others.length })}` : ""}
      </span>
    </a>
  );
}

function WallDrum({ drum }: { readonly drum: DrumView }) {
  const { word, silent } = wordOf(drum);
  const litres = litresOf(drum);
  const share = litres === null ? 0 : Math.min(100, (litres / drum.capacity) * 100);
  const filling =
    lost.value || drum.filling === null
      ? w.moreWords.cantTell
      : drum.filling
        ? `${w.moreWords.filling}${
            drum.timeToTrip === null
              ? ""
              : ` · ${say(w.drum.toFloat, { duration: duration(drum.timeToTrip * 1000) })}`
          }`
        : w.moreWords.notFilling;
  return (
    <section class={`d ${word} ${silent ? "silent" : ""}`} aria-label={drum.title}>
      <div class={`vw ${word === "hold" ? "hold" : ""} ${litres === null ? "unk" : ""}`}>
        {drum.floats.map(({ role, tripsAt }) =>
          tripsAt === null ? null : (
            <span key={role} class="fl" style={{ bottom: `${(tripsAt / drum.capacity) * 100}%` }} />
          ),
        )}
        {litres !== null && <div class="wtr" style={{ height: `${share}%` }} />}
      </div>
      <div class="bt">
        <h2 class="dn">{drum.title}</h2>
        <p class={`dw ${word}`}>{verdictWords(word)}</p>
        <p class="dl">
          {litres === null ? w.frame.notKnown : volumeFigure(litres)}{" "}
          <small>{say(w.drum.of, { capacity: volume(drum.capacity) })}</small>
        </p>
        <p class="dx">{filling}</p>
      </div>
    </section>
  );
}

/** Three points at most, in the order of the line: those with a limit, what comes in, those that feed a drum, the others. */
function Points({ line: shown }: { readonly line: LineView }) {
  const inOrder = pictureOf(shown)
    .pipes.flat()
    .flatMap((column) => (column.kind === "point" && column.point.hasProbe ? [column.point] : []));
  const rank = (point: LineView["points"][number]) =>
    point.limit !== null
      ? 0
      : point === inOrder[0]
        ? 1
        : shown.drums.some(({ fedBy }) => fedBy === point.id)
          ? 2
          : 3;
  const chosen = [...inOrder].sort((a, b) => rank(a) - rank(b)).slice(0, 3);
  const points = inOrder.filter((point) => chosen.includes(point));
  return (
    <div class="wp">
      {points.map((point) => {
        const { look } = lookNow(point, shown);
        const { value } = point.conductivity25;
        const isShown = look !== "stale" && value !== null;
        const note =
          isShown && point.limit !== null && !point.judged.now
            ? w.moreWords.notJudged
            : unitOf("conductivity25");
        return (
          <div key={point.id} class={look}>
            <p class="k">{point.title}</p>
            <p class="v">
              {isShown ? figure(toShown("conductivity25", value)) : w.frame.notKnown}{" "}
              <small>{isShown ? note : w.moreWords.notHeard}</small>
            </p>
          </div>
        );
      })}
    </div>
  );
}
