import type { DrumView, LineView } from "@drumlin/gateway/contract";
import { useEffect } from "preact/hooks";
import { AlarmMark } from "../components/alarm-mark.tsx";
import { Critical, isCritical } from "../components/critical.tsx";
import { hasEnded, orderedAlarms, unseen } from "../data/alarm-order.ts";
import { alarms, gatewayAheadMs, gatewayNowMs, heardMs, line, lost } from "../data/state.ts";
import { litresOf, wordOf } from "../format/drum-facts.ts";
import { headlineOf } from "../format/headlines.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { isStanding, lookOf } from "../line/mark.ts";

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
  const heard = new Date(heardMs.value + gatewayAheadMs.value).toISOString();
  return (
    <main class={lost.value ? "board old" : "board"}>
      <div>
        <div class="wh">
          <a href="/#">
            <h1>{shown?.title ?? "Drumlin"}</h1>
            {shown?.simulated && <span class="tag sim">simulated</span>}
          </a>
          <span>
            <button type="button" class="btn plain" onClick={full}>
              Full screen
            </button>
            {clock(now.toISOString(), now.getTime())}{" "}
            <span class="soft">
              {now.toLocaleDateString(undefined, { weekday: "short", day: "numeric", month: "short" })}
            </span>
          </span>
        </div>
        {lost.value && (
          <div class="bar-lost">
            <b>No contact with the gateway since {clock(heard, gatewayNowMs.value)}</b> Everything here is
            old.
          </div>
        )}
        {!isFlooding && <FirstAlarm />}
      </div>
      {isFlooding ? (
        <Critical />
      ) : (
        <div class="wd">
          {shown?.drums.map((drum) => (
            <WallDrum key={drum.id} drum={drum} />
          ))}
        </div>
      )}
      {shown && <Points line={shown} />}
    </main>
  );
}

/** The most urgent alarm by name, the others by their number. */
function FirstAlarm() {
  const [first, ...others] = orderedAlarms(alarms.value, [], false)
    .filter(({ state }) => isStanding(state))
    .sort((a, b) => Number(hasEnded(a)) - Number(hasEnded(b)));
  if (!first) return null;
  return (
    <a class={`wa ${first.attention} ${hasEnded(first) || !unseen(first) ? "quiet" : ""}`} href="#alarms">
      <AlarmMark attention={first.attention} />
      <span>
        {headlineOf(first)}
        {others.length > 0 ? ` · and ${others.length} more` : ""}
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
      ? "can't tell whether it is filling"
      : drum.filling
        ? `filling${drum.timeToTrip === null ? "" : ` · ${duration(drum.timeToTrip * 1000)} to the float`}`
        : "not filling";
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
        <p class={`dw ${word}`}>{word}</p>
        <p class="dl">
          {litres === null ? "—" : litres.toFixed(0)} <small>of {drum.capacity.toFixed(0)} L</small>
        </p>
        <p class="dx">{filling}</p>
      </div>
    </section>
  );
}

/** Three points at most: those with a limit first. */
function Points({ line: shown }: { readonly line: LineView }) {
  const points = [...shown.points]
    .filter(({ hasProbe }) => hasProbe)
    .sort((a, b) => Number(b.limit !== null) - Number(a.limit !== null))
    .slice(0, 3);
  return (
    <div class="wp">
      {points.map((point) => {
        const { look } = lookOf(point, {
          line: shown,
          alarms: alarms.value,
          lost: lost.value,
          nowMs: gatewayNowMs.value,
        });
        const { value } = point.conductivity25;
        const isShown = look !== "stale" && value !== null;
        const note = isShown && point.limit !== null && !point.judged.now ? "not judged" : "µS/cm";
        return (
          <div key={point.id} class={look}>
            <p class="k">{point.title}</p>
            <p class="v">
              {isShown ? figure(value) : "—"} <small>{isShown ? note : "not heard"}</small>
            </p>
          </div>
        );
      })}
    </div>
  );
}
