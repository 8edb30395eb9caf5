import type { AlarmView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { Spark } from "../charts/spark.tsx";
import { actOnAlarm } from "../data/acts.ts";
import { hasEnded, unseen } from "../data/alarm-order.ts";
import { mayAct } from "../data/me.ts";
import { gatewayNowMs, line } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { clock } from "../format/numbers.ts";
import { attentionWords, notJudgedWords, stateWords } from "../format/words.ts";
import { detailOf } from "./alarm-detail.ts";
import { AlarmMark } from "./alarm-mark.tsx";
import { StopButtons } from "./stop-buttons.tsx";
import { ActAnswer, ActButton, type Acts, useActs } from "./use-acts.tsx";

// Buttons, not a list box: in a closed list box an arrow key alone would silence the alarm.
const silences = [
  { minutes: 30, words: "30 min" },
  { minutes: 120, words: "2 h" },
  { minutes: 480, words: "8 h" },
] as const;

/** What has ended asks to be seen without shouting: the water is no longer at it. */
function isLoud(alarm: AlarmView): boolean {
  return unseen(alarm) && !hasEnded(alarm);
}

/** One standing alarm: its subject and what, the numbers by name, since when, what to do, and its acts. */
export function AlarmCard({ alarm }: { readonly alarm: AlarmView }) {
  const acts = useActs();
  const now = gatewayNowMs.value;
  const detail = hasEnded(alarm) ? "" : detailOf(alarm);
  return (
    <article class={`acard ${alarm.attention} ${isLoud(alarm) ? "" : "seen"}`} data-alarm={alarm.key}>
      <div class="lead">
        <AlarmMark attention={alarm.attention} />
      </div>
      <div class="body">
        <h3>{headlineOf(alarm)}</h3>
        <p class="meta">
          {attentionWords(alarm.attention)}
          {alarm.raisedAt ? ` · since ${clock(alarm.raisedAt, now)}` : ""}
          {hasEnded(alarm) && alarm.clearedAt ? ` · ended ${clock(alarm.clearedAt, now)}` : ""}
          {" · "}
          <span class="state">
            {hasEnded(alarm) ? stateWords(alarm.state).replace(/^ended, /, "") : stateWords(alarm.state)}
            {alarm.shelvedUntil ? ` until ${clock(alarm.shelvedUntil, now)}` : ""}
            {alarm.state === "acknowledged" && alarm.acknowledgedBy ? ` by ${alarm.acknowledgedBy}` : ""}
          </span>
        </p>
        {(detail !== "" || !alarm.judged.now) && (
          <p class="numbers">
            {detail !== "" && <b>{detail}</b>}
            {alarm.judged.now
              ? ""
              : `${detail === "" ? "" : " · "}${notJudgedWords(alarm.judged.because)} since ${clock(alarm.judged.since, now)}`}
          </p>
        )}
        <div class="do">
          <b>What to do</b>
          <p>{alarm.response}</p>
        </div>
        <div class="acts" ref={acts.host}>
          {mayAct.value && <Buttons alarm={alarm} acts={acts} />}
          <ActAnswer acts={acts} />
        </div>
      </div>
      <AlarmFigure alarm={alarm} />
    </article>
  );
}

/** The last hours of what it is about: why it was raised. */
function AlarmFigure({ alarm }: { readonly alarm: AlarmView }) {
  const point = line.value?.points.find(({ id }) => id === alarm.subject);
  const drum = line.value?.drums.find(({ id }) => id === alarm.subject);
  const common = { id: alarm.subject };
  if (point?.hasProbe)
    return (
      <div class="fig">
        <Spark
          {...common}
          kind="points"
          quantity="conductivity25"
          title={point.title}
          unit="µS/cm"
          limit={point.limit}
        />
      </div>
    );
  if (drum?.quantities.includes("volume"))
    return (
      <div class="fig">
        <Spark
          {...common}
          kind="drums"
          quantity="volume"
          title={`${drum.title}, litres`}
          unit="L"
          limit={null}
        />
      </div>
    );
  return <div class="fig" />;
}

function Buttons({ alarm, acts }: { readonly alarm: AlarmView; readonly acts: Acts }) {
  const common = { acts, subject: headlineOf(alarm) };
  return (
    <>
      {unseen(alarm) && (
        <ActButton
          {...common}
          first
          name="Mark as seen"
          done="Marked as seen."
          send={() => actOnAlarm(alarm, "acknowledge")}
        />
      )}
      {alarm.condition === "drum-not-stopping" && <StopButtons alarm={alarm} {...common} />}
      {alarm.state.startsWith("latched") && alarm.condition !== "drum-not-stopping" && (
        <ActButton {...common} name="Reset" done="Reset." send={() => actOnAlarm(alarm, "reset")} />
      )}
      {alarm.state === "shelved" && (
        <ActButton
          {...common}
          name="End the silence"
          done="It can ring again."
          send={() => actOnAlarm(alarm, "unshelve")}
        />
      )}
      {(alarm.state === "unacknowledged" || alarm.state === "acknowledged") && (
        <>
          <Silence alarm={alarm} acts={acts} />
          {/* What wakes people is never switched off from a page. */}
          {alarm.attention !== "wake" && <SwitchOff alarm={alarm} acts={acts} />}
        </>
      )}
      {alarm.state === "out-of-service" && (
        <ActButton
          {...common}
          name="Switch on again"
          done="Switched on."
          send={() => actOnAlarm(alarm, "in-service")}
        />
      )}
    </>
  );
}

/** Makes it silent for a while; why is asked, and may be left out at night with wet hands. */
function Silence({ alarm, acts }: { readonly alarm: AlarmView; readonly acts: Acts }) {
  const [reason, type] = useState("");
  const note = reason.trim();
  return (
    <details class="silence">
      <summary>
        Silence…<span class="vh"> {headlineOf(alarm)}</span>
      </summary>
      <div>
        <label class="field">
          <span>Why? (may be left out)</span>
          <input value={reason} maxLength={500} onInput={({ currentTarget }) => type(currentTarget.value)} />
        </label>
        {silences.map(({ minutes, words }) => (
          <ActButton
            key={minutes}
            acts={acts}
            subject={headlineOf(alarm)}
            name={words}
            done={`Silent for ${words}. It stays here and in the log.`}
            send={() => actOnAlarm(alarm, "shelve", note === "" ? { minutes } : { minutes, note })}
          />
        ))}
      </div>
    </details>
  );
}

function SwitchOff({ alarm, acts }: { readonly alarm: AlarmView; readonly acts: Acts }) {
  const [reason, type] = useState("");
  return (
    <details class="silence apart">
      <summary>
        Switch off…<span class="vh"> {headlineOf(alarm)}</span>
      </summary>
      <div>
        <p class="sm soft">It will not ring until somebody switches it on again. It stays on this page.</p>
        <label class="field">
          <span>Why?</span>
          <input value={reason} maxLength={500} onInput={({ currentTarget }) => type(currentTarget.value)} />
        </label>
        <ActButton
          acts={acts}
          name="Switch off"
          subject={headlineOf(alarm)}
          done="Switched off."
          send={async () =>
            reason.trim() === ""
              ? { taken: false, problem: "Say why first. Nothing was changed." }
              : actOnAlarm(alarm, "out-of-service", { note: reason.trim() })
          }
        />
      </div>
    </details>
  );
}
