import type { AlarmView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { actOnAlarm } from "../data/acts.ts";
import { unseen } from "../data/alarm-order.ts";
import { mayAct } from "../data/me.ts";
import { gatewayNowMs } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { clock } from "../format/numbers.ts";
import { attentionWords, notJudgedWords, stateWords } from "../format/words.ts";
import { detailOf } from "./alarm-detail.ts";
import { AlarmMark } from "./alarm-mark.tsx";
import { ActAnswer, ActButton, type Acts, useActs } from "./use-acts.tsx";

// Buttons, not a list box: in a closed list box an arrow key alone would silence the alarm.
const silences = [
  { minutes: 30, words: "30 min" },
  { minutes: 120, words: "2 h" },
  { minutes: 480, words: "8 h" },
] as const;

/** One standing alarm: its subject and what, the numbers by name, since when, what to do, and its acts. */
export function AlarmCard({ alarm }: { readonly alarm: AlarmView }) {
  const acts = useActs();
  const now = gatewayNowMs.value;
  const detail = detailOf(alarm);
  return (
    <article class={`stand ${alarm.attention}${unseen(alarm) ? "" : " seen"}`}>
      <AlarmMark attention={alarm.attention} unseen={unseen(alarm)} />
      <div class="say">
        <h2>{headlineOf(alarm)}</h2>
        <p class="meta">
          {attentionWords(alarm.attention)}
          {alarm.raisedAt ? ` · since ${clock(alarm.raisedAt, now)}` : ""}
          {" · "}
          <span class="tag">
            {stateWords(alarm.state)}
            {alarm.shelvedUntil ? ` until ${clock(alarm.shelvedUntil, now)}` : ""}
            {alarm.state === "acknowledged" && alarm.acknowledgedBy ? ` by ${alarm.acknowledgedBy}` : ""}
          </span>
        </p>
        {(detail !== "" || !alarm.judged.now) && (
          <p class="numbers">
            {detail !== "" && <b class="n">{detail}</b>}
            {alarm.judged.now
              ? ""
              : `${detail === "" ? "" : " · "}${notJudgedWords(alarm.judged.because)} since ${clock(alarm.judged.since, now)}`}
          </p>
        )}
        <p class="do">{alarm.response}</p>
      </div>
      <div class="acts" ref={acts.host}>
        {mayAct.value && <Buttons alarm={alarm} acts={acts} />}
        <ActAnswer acts={acts} />
      </div>
    </article>
  );
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
      {alarm.state.startsWith("latched") && (
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
          <details class="silence">
            <summary>
              Silence…<span class="hidden"> {common.subject}</span>
            </summary>
            <div>
              {silences.map(({ minutes, words }) => (
                <ActButton
                  key={minutes}
                  {...common}
                  name={words}
                  done={`Silent for ${words}. It stays here and in the log.`}
                  send={() => actOnAlarm(alarm, "shelve", { minutes })}
                />
              ))}
            </div>
          </details>
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

function SwitchOff({ alarm, acts }: { readonly alarm: AlarmView; readonly acts: Acts }) {
  const [reason, type] = useState("");
  return (
    <details class="silence apart">
      <summary>
        Switch off…<span class="hidden"> {headlineOf(alarm)}</span>
      </summary>
      <div>
        <p class="u">It will not ring until somebody switches it on again. It stays on this page.</p>
        <label>
          Why?
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
