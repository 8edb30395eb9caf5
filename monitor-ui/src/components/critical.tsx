import type { AlarmView } from "@drumlin/gateway/contract";
import { actOnAlarm } from "../data/acts.ts";
import { mayAct } from "../data/me.ts";
import { alarms, line, lost } from "../data/state.ts";
import { litresOf } from "../format/drum-facts.ts";
import { headlineOf, toDoOf } from "../format/headlines.ts";
import { figure } from "../format/numbers.ts";
import { toShown, unitOf, volume, volumeFigure } from "../format/units.ts";
import { say, w } from "../words/words.ts";
import { AlarmMark } from "./alarm-mark.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** Whether an alarm asks for a hand now, and nobody has seen it. */
export function isCritical({ attention, state, under }: AlarmView): boolean {
  return attention === "wake" && state === "unacknowledged" && under === null;
}

/** What must be done now, on every page: it pushes the page down and never covers it. */
export function Critical() {
  return (
    <>
      {alarms.value.filter(isCritical).map((alarm) => (
        <CriticalAlarm key={alarm.key} alarm={alarm} />
      ))}
    </>
  );
}

/** Sentences of a response: the first in the largest type. */
function stepsOf(response: string): string[] {
  return response
    .split(/(?<=\.)\s+/)
    .map((sentence) => sentence.trim())
    .filter(Boolean);
}

function CriticalAlarm({ alarm }: { readonly alarm: AlarmView }) {
  const acts = useActs();
  const headline = headlineOf(alarm);
  const [first, ...others] = stepsOf(toDoOf(alarm));
  return (
    <section class="crit wake" aria-label={headline}>
      <div>
        <h2 class="what">
          <AlarmMark attention="wake" />
          {headline}
        </h2>
        <p class="now">{first}</p>
        {others.length > 1 ? (
          <ol>
            {others.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        ) : (
          <p class="next">{others[0]}</p>
        )}
        <div class="acts" ref={acts.host}>
          {mayAct.value && (
            <ActButton
              acts={acts}
              name={w.alarmWords.seenStop}
              subject={headline}
              done={w.alarmWords.markedSeen}
              send={() => actOnAlarm(alarm, "acknowledge")}
            />
          )}
          <a class="btn ghost" href={`#alarms?at=${encodeURIComponent(alarm.key)}`}>
            {w.alarmWords.openAlarm}
          </a>
          <ActAnswer acts={acts} />
        </div>
      </div>
      <Numbers subject={alarm.subject} />
    </section>
  );
}

/** What the drum holds and what still runs in, live. */
function Numbers({ subject }: { readonly subject: string }) {
  const drum = line.value?.drums.find(({ id }) => id === subject);
  if (!drum) return null;
  const litres = litresOf(drum);
  const filling = lost.value ? null : drum.filling;
  const flow = filling === true ? drum.flow : null;
  return (
    <dl class="live">
      <div>
        <dt>{w.alarmWords.inDrum}</dt>
        <dd>
          {litres === null ? w.frame.notKnown : volumeFigure(litres)}{" "}
          <small>{say(w.drum.of, { capacity: volume(drum.capacity) })}</small>
        </dd>
      </div>
      <div>
        <dt>{w.alarmWords.stillRunning}</dt>
        <dd>
          {flow !== null
            ? figure(toShown("flow", flow))
            : filling === null
              ? w.alarmWords.cantTell
              : filling
                ? w.alarmWords.yes
                : w.alarmWords.no}
          {flow !== null && <small> {unitOf("flow")}</small>}
        </dd>
      </div>
    </dl>
  );
}
