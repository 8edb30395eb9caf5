import type { AlarmView } from "@drumlin/gateway/contract";
import { orderedAlarms } from "../data/alarm-order.ts";
import { inLines } from "../data/alarm-rows.ts";
import { hasEnded, isHeld, isSilent, unseen } from "../data/alarm-state.ts";
import { mayAct } from "../data/me.ts";
import { alarms, gatewayNowMs } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { clock } from "../format/numbers.ts";
import { notJudgedWords } from "../format/words.ts";
import { count, say, w } from "../words/words.ts";
import { detailOf } from "./alarm-detail.ts";
import { AlarmMark } from "./alarm-mark.tsx";
import { isCritical } from "./critical.tsx";
import { Icon } from "./icon.tsx";
import { isSeenForGood, SeenButtons } from "./seen-buttons.tsx";
import { ActAnswer, useActs } from "./use-acts.tsx";

const maxRows = 3;
const maxPhoneRows = 2;

/** What stands, on two lines each, most urgent first; the rest is counted. */
export function AlarmRows() {
  const shown = inLines(
    orderedAlarms(alarms.value, [], false)
      // What only waits for somebody to turn it on again, or was made silent, stands on its own page.
      .filter((alarm) => !isSilent(alarm) && alarm.under === null && !isCritical(alarm)),
  );
  const told = (rows: number) => shown.slice(0, rows).reduce((sum, line) => sum + line.count, 0);
  const others = alarms.value.length - told(maxRows) - alarms.value.filter(isCritical).length;
  if (alarms.value.length === 0) return null;
  // A phone has room for two above the drums.
  const onPhone = others + told(maxRows) - told(maxPhoneRows);
  return (
    <section class="alarms" aria-label={w.frame.alarms}>
      {shown.map((line, at) => (
        <AlarmRow key={line.alarm.key} alarm={line.alarm} count={line.count} onPaperOnly={at >= maxRows} />
      ))}
      <div class="alarms-foot">
        {onPhone > 0 && (
          <a class={others > 0 ? "more-alarms" : "more-alarms phone-only"} href="#alarms">
            {shown.length === 0 ? (
              count(w.alarmWords.quiet, others)
            ) : (
              <>
                <span class="not-phone">{say(w.alarmWords.andMore, { count: others })}</span>
                <span class="phone-only">{say(w.alarmWords.andMore, { count: onPhone })}</span>
              </>
            )}
          </a>
        )}
      </div>
    </section>
  );
}

/** When it was raised or ended, and what it still asks for; never today's litres for what is over. */
function secondLine(alarm: AlarmView): { number: string; rest: string; more: string } {
  const now = gatewayNowMs.value;
  if (hasEnded(alarm)) {
    const ended = alarm.clearedAt
      ? say(w.alarmWords.endedAt, { time: clock(alarm.clearedAt, now) })
      : w.alarmWords.endedOnly;
    const waits = isHeld(alarm) ? ` · ${w.alarmWords.needsReset}` : "";
    return { number: "", rest: `${ended}${waits}`, more: unseen(alarm) ? w.alarmWords.notSeenYet : "" };
  }
  return {
    number: detailOf(alarm),
    rest: alarm.raisedAt ? say(w.alarmWords.since, { time: clock(alarm.raisedAt, now) }) : "",
    more: alarm.judged.now ? "" : notJudgedWords(alarm.judged.because),
  };
}

interface AlarmRowProps {
  readonly alarm: AlarmView;
  /** Of so many alarms it tells. */
  readonly count: number;
  readonly onPaperOnly: boolean;
}

function AlarmRow({ alarm, count: many, onPaperOnly }: AlarmRowProps) {
  const acts = useActs();
  const isOne = many === 1;
  const headline = isOne ? headlineOf(alarm) : count(w.alarmWords.floatsDue, many);
  const { number, rest, more } = secondLine(alarm);
  return (
    <article
      class={`arow ${alarm.attention} ${unseen(alarm) && !hasEnded(alarm) ? "" : "seen"} ${onPaperOnly ? "paper" : ""}`}
      data-alarm={alarm.key}
    >
      <div class="lead">
        <AlarmMark attention={alarm.attention} />
      </div>
      <div class="say">
        <h2>{headline}</h2>
        <p>
          {number !== "" && <b>{number}</b>}
          {number !== "" && rest !== "" ? " · " : ""}
          {rest}
          {more !== "" && <span class="wide"> · {more}</span>}
        </p>
        {/* On a phone a row has no button: its alarm is seen on its own page. */}
        {mayAct.value && isOne && isSeenForGood(alarm) && (
          <p class="not-phone final">{w.alarmWords.seenFinal}</p>
        )}
        <ActAnswer acts={acts} />
      </div>
      <div class="acts" ref={acts.host}>
        {mayAct.value && isOne && <SeenButtons alarm={alarm} acts={acts} />}
        <a
          class="btn plain icon"
          href={`#alarms?at=${encodeURIComponent(alarm.key)}`}
          aria-label={say(w.alarmWords.open, { headline })}
        >
          <Icon name="next" />
        </a>
      </div>
    </article>
  );
}
