import type { AlarmView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { Spark } from "../charts/spark.tsx";
import { actOnAlarm } from "../data/acts.ts";
import { goesOn, hasEnded, isHeld, unseen } from "../data/alarm-state.ts";
import { mayAct } from "../data/me.ts";
import { gatewayNowMs, line } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { headlineOf, toDoOf } from "../format/headlines.ts";
import { clock, duration } from "../format/numbers.ts";
import { attentionWords, notJudgedWords, stateWords } from "../format/words.ts";
import { count, say, w } from "../words/words.ts";
import { detailOf, raisedWithOf } from "./alarm-detail.ts";
import { AlarmMark } from "./alarm-mark.tsx";
import { HeldReset } from "./held-reset.tsx";
import { isSeenForGood, SeenButtons } from "./seen-buttons.tsx";
import { StopButtons } from "./stop-buttons.tsx";
import { ActAnswer, ActButton, type Acts, useActs } from "./use-acts.tsx";

// Buttons, not a list box: in a closed list box an arrow key alone would silence the alarm.
const silences = [30, 120, 480] as const;

/** What an alarm still asks for; that it has ended is said before. */
function waitsFor(state: AlarmView["state"]): string {
  if (state === "returned-unacknowledged") return w.alarmWords.waitsSeen;
  if (state === "latched-unacknowledged") return w.alarmWords.waitsReset;
  return state === "latched-acknowledged" ? w.alarmWords.seenReset : stateWords(state);
}

/** What has ended asks to be seen without shouting: the water is no longer at it. */
function isLoud(alarm: AlarmView): boolean {
  return unseen(alarm) && !hasEnded(alarm);
}

/** One standing alarm: its subject and what, the numbers by name, since when, what to do, and its acts. */
export function AlarmCard({ alarm }: { readonly alarm: AlarmView }) {
  const acts = useActs();
  const now = gatewayNowMs.value;
  const detail = hasEnded(alarm) ? "" : [detailOf(alarm), raisedWithOf(alarm)].filter(Boolean).join(" ");
  return (
    <article class={`acard ${alarm.attention} ${isLoud(alarm) ? "" : "seen"}`} data-alarm={alarm.key}>
      <div class="lead">
        <AlarmMark attention={alarm.attention} />
      </div>
      <div class="body">
        <h3>{headlineOf(alarm)}</h3>
        <p class="meta">
          {attentionWords(alarm.attention)}
          {alarm.raisedAt ? ` · ${say(w.alarmWords.since, { time: clock(alarm.raisedAt, now) })}` : ""}
          {hasEnded(alarm) && alarm.clearedAt
            ? ` · ${say(w.alarmWords.ended, { time: clock(alarm.clearedAt, now) })}`
            : ""}
          {" · "}
          <span class="state">
            {waitsFor(alarm.state)}
            {alarm.shelvedUntil
              ? ` ${say(w.alarmWords.until, { time: clock(alarm.shelvedUntil, now) })}`
              : ""}
            {alarm.state === "acknowledged" && alarm.acknowledgedBy
              ? ` ${say(w.alarmWords.by, { person: byWords(alarm.acknowledgedBy) })}`
              : ""}
          </span>
        </p>
        {(detail !== "" || !alarm.judged.now) && (
          <p class="numbers">
            {detail !== "" && <b>{detail}</b>}
            {alarm.judged.now
              ? ""
              : `${detail === "" ? "" : " · "}${say(w.alarmWords.notJudgedSince, { why: notJudgedWords(alarm.judged.because), time: clock(alarm.judged.since, now) })}`}
          </p>
        )}
        <div class="do">
          <b>{alarm.clearedAt === null ? w.alarmWords.whatToDo : w.alarmWords.leftToDo}</b>
          <p>{toDoOf(alarm)}</p>
        </div>
        <div class="acts" ref={acts.host}>
          {mayAct.value && <Buttons alarm={alarm} acts={acts} />}
          <ActAnswer acts={acts} />
          {mayAct.value && isSeenForGood(alarm) && <p class="sm soft final">{w.alarmWords.seenFinal}</p>}
        </div>
      </div>
      <AlarmFigure alarm={alarm} />
    </article>
  );
}

const hourMs = 3_600_000;

/** So much is shown after an alarm was raised: of one that stands for weeks, why it was raised would be a hair's breadth. */
const longestWhyMs = 11 * hourMs;

/** The time that shows why: the hour before it was raised, until an hour after it ended, or now; half a day at most. */
function whyTime({ raisedAt, clearedAt }: AlarmView): {
  sinceMs?: number;
  untilMs?: number;
  markMs?: number;
} {
  if (raisedAt === null) return {};
  const raised = Date.parse(raisedAt);
  const ended = clearedAt === null ? Number.POSITIVE_INFINITY : Date.parse(clearedAt) + hourMs;
  const until = Math.min(ended, raised + longestWhyMs);
  return {
    sinceMs: raised - hourMs,
    markMs: raised,
    ...(until > gatewayNowMs.peek() ? {} : { untilMs: until }),
  };
}

/** What it is about, round the time when it was raised. */
function AlarmFigure({ alarm }: { readonly alarm: AlarmView }) {
  const point = line.value?.points.find(({ id }) => id === alarm.subject);
  // A float's alarm is about the drum that it stops.
  const drum = line.value?.drums.find(
    ({ id, floats }) => id === alarm.subject || floats.some((float) => float.id === alarm.subject),
  );
  const common = whyTime(alarm);
  if (point?.hasProbe)
    return (
      <div class="fig">
        <Spark
          {...common}
          kind="points"
          id={point.id}
          quantity="conductivity25"
          title={point.title}
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
          id={drum.id}
          quantity="volume"
          title={say(w.drum.contents, { title: drum.title })}
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
      <SeenButtons alarm={alarm} acts={acts} first />
      {alarm.condition === "drum-not-stopping" && <StopButtons alarm={alarm} {...common} />}
      {isHeld(alarm) && alarm.condition !== "drum-not-stopping" && <Reset alarm={alarm} acts={acts} />}
      {alarm.state === "shelved" && (
        <ActButton
          {...common}
          name={w.alarmWords.endSilence}
          done={w.alarmWords.canRing}
          send={() => actOnAlarm(alarm, "unshelve")}
        />
      )}
      {goesOn(alarm) && (
        <>
          <Silence alarm={alarm} acts={acts} />
          {/* What wakes people is never switched off from a page. */}
          {alarm.attention !== "wake" && <SwitchOff alarm={alarm} acts={acts} />}
        </>
      )}
      {alarm.state === "out-of-service" && (
        <ActButton
          {...common}
          name={w.alarmWords.switchOn}
          done={w.alarmWords.switchedOn}
          send={() => actOnAlarm(alarm, "in-service")}
        />
      )}
    </>
  );
}

/** Ends what is held until a person says so; what that means stands before it. */
function Reset({ alarm, acts }: { readonly alarm: AlarmView; readonly acts: Acts }) {
  const subject = headlineOf(alarm);
  return (
    <HeldReset subject={subject}>
      <p class="sm soft">{w.alarmWords.resetWhat}</p>
      <ActButton
        acts={acts}
        subject={subject}
        name={w.alarmWords.reset}
        done={w.alarmWords.wasReset}
        send={() => actOnAlarm(alarm, "reset")}
      />
    </HeldReset>
  );
}

/** Makes it silent for a while; why is asked, and may be left out at night with wet hands. */
function Silence({ alarm, acts }: { readonly alarm: AlarmView; readonly acts: Acts }) {
  const [reason, type] = useState("");
  const note = reason.trim();
  return (
    <details class="silence">
      <summary>
        {w.alarmWords.silence}
        <span class="vh"> {headlineOf(alarm)}</span>
      </summary>
      <div>
        <label class="field">
          <span>{w.alarmWords.whyOptional}</span>
          <input value={reason} maxLength={500} onInput={({ currentTarget }) => type(currentTarget.value)} />
        </label>
        {silences.map((minutes) => (
          <ActButton
            key={minutes}
            acts={acts}
            subject={headlineOf(alarm)}
            name={duration(minutes * 60_000)}
            done={say(w.alarmWords.silentFor, { duration: duration(minutes * 60_000) })}
            send={() => actOnAlarm(alarm, "shelve", note === "" ? { minutes } : { minutes, note })}
          />
        ))}
      </div>
    </details>
  );
}

/** Without an end somebody would have to think of it. */
const offDays = [1, 7, 30] as const;

function SwitchOff({ alarm, acts }: { readonly alarm: AlarmView; readonly acts: Acts }) {
  const [reason, type] = useState("");
  const [days, choose] = useState("7");
  return (
    <details class="silence apart">
      <summary>
        {w.alarmWords.switchOffMore}
        <span class="vh"> {headlineOf(alarm)}</span>
      </summary>
      <div>
        <p class="sm soft">{w.alarmWords.switchOffWhat}</p>
        <label class="field">
          <span>{w.alarmWords.why}</span>
          <input value={reason} maxLength={500} onInput={({ currentTarget }) => type(currentTarget.value)} />
        </label>
        <label class="field">
          <span>{w.alarmWords.offFor}</span>
          <select value={days} onChange={({ currentTarget }) => choose(currentTarget.value)}>
            {offDays.map((value) => (
              <option key={value} value={value}>
                {count(w.frame.days, value)}
              </option>
            ))}
            <option value="">{w.alarmWords.offForEver}</option>
          </select>
        </label>
        <ActButton
          acts={acts}
          name={w.alarmWords.switchOff}
          subject={headlineOf(alarm)}
          done={w.alarmWords.switchedOff}
          send={async () =>
            reason.trim() === ""
              ? { taken: false, problem: w.alarmWords.sayWhy }
              : actOnAlarm(alarm, "out-of-service", {
                  note: reason.trim(),
                  ...(days === "" ? {} : { days: Number(days) }),
                })
          }
        />
      </div>
    </details>
  );
}
