import type { AlarmView } from "@drumlin/gateway/contract";
import { actOnAlarm } from "../data/acts.ts";
import { mayAct } from "../data/me.ts";
import { nowMs, titleOf } from "../data/state.ts";
import { clock, figure } from "../format/numbers.ts";
import { notJudgedWords, stateWords } from "../format/words.ts";

// Buttons, not a list box: in a closed list box an arrow key alone would silence the alarm.
const silences = [
  { minutes: 30, words: "30 min" },
  { minutes: 120, words: "2 h" },
  { minutes: 480, words: "8 h" },
] as const;

/** One standing alarm: what it says, its value and limit, since when, what to do, and the two buttons. */
export function AlarmCard({ alarm }: { readonly alarm: AlarmView }) {
  const unseen = alarm.state.endsWith("unacknowledged");
  const place = titleOf(alarm.subject);
  const latched = alarm.state.startsWith("latched");
  return (
    <section class={`stand ${alarm.attention}`} role="alert">
      <svg class={unseen ? "shape unseen" : "shape"} viewBox="0 0 26 26" aria-hidden="true">
        <path d="M13 2 25 24H1Z" />
        <rect x="11.7" y="9" width="2.6" height="8" class="hole" />
        <rect x="11.7" y="19" width="2.6" height="2.6" class="hole" />
      </svg>
      <div>
        <strong>{alarm.text}</strong>{" "}
        <span class="tag">
          {stateWords(alarm.state)}
          {alarm.shelvedUntil ? ` until ${clock(alarm.shelvedUntil, nowMs.value)}` : ""}
        </span>
        <p>
          {place}:{" "}
          {alarm.value === null ? (
            ""
          ) : (
            <b class="n">
              {figure(alarm.value)} {alarm.unit === "uS/cm" ? "µS/cm" : alarm.unit}
            </b>
          )}
          {alarm.limit === null ? "" : `, limit ${alarm.limit}`}
          {alarm.raisedAt ? `, since ${clock(alarm.raisedAt, nowMs.value)}` : ""}
          {alarm.judged.now
            ? ""
            : ` · ${notJudgedWords(alarm.judged.because)} since ${clock(alarm.judged.since, nowMs.value)}; this was the last judged value`}
        </p>
        <p>{alarm.response}</p>
      </div>
      <div class="acts">{mayAct.value && <Acts alarm={alarm} unseen={unseen} latched={latched} />}</div>
    </section>
  );
}

interface ActsProps {
  readonly alarm: AlarmView;
  readonly unseen: boolean;
  readonly latched: boolean;
}

function Acts({ alarm, unseen, latched }: ActsProps) {
  return (
    <>
      {unseen && (
        <button type="button" class="first" onClick={() => void actOnAlarm(alarm, "acknowledge")}>
          Seen
        </button>
      )}
      {latched && (
        <button type="button" onClick={() => void actOnAlarm(alarm, "reset")}>
          Reset
        </button>
      )}
      {alarm.state === "shelved" && (
        <button type="button" onClick={() => void actOnAlarm(alarm, "unshelve")}>
          Bring back
        </button>
      )}
      {(alarm.state === "unacknowledged" || alarm.state === "acknowledged") && (
        <details class="silence">
          <summary>Silence for…</summary>
          <div>
            {silences.map(({ minutes, words }) => (
              <button
                type="button"
                key={minutes}
                onClick={(event) => {
                  event.currentTarget.closest("details")?.removeAttribute("open");
                  void actOnAlarm(alarm, "shelve", { minutes });
                }}
              >
                {words}
              </button>
            ))}
            <button type="button" onClick={() => void actOnAlarm(alarm, "out-of-service")}>
              Out of service
            </button>
          </div>
        </details>
      )}
      {alarm.state === "out-of-service" && (
        <button type="button" onClick={() => void actOnAlarm(alarm, "in-service")}>
          Back in service
        </button>
      )}
    </>
  );
}
