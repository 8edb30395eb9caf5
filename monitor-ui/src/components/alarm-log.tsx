import type { AlarmChangeView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { gatewayNowMs } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { headlineOf } from "../format/headlines.ts";
import { locale, zone } from "../format/locale.ts";
import { dayOf, timeOfDay } from "../format/numbers.ts";
import { inUnit } from "../format/units.ts";
import { changeWords } from "../format/words.ts";
import { say, w } from "../words/words.ts";
import { AlarmMark } from "./alarm-mark.tsx";

const atOf = (iso: string) => new Date(iso);

function dayWords(iso: string, nowMs: number): string {
  const day = dayOf(atOf(iso));
  if (day === dayOf(new Date(nowMs))) return w.alarmWords.today;
  if (day === dayOf(new Date(nowMs - 86_400_000))) return w.alarmWords.yesterday;
  const form = { weekday: "long", day: "numeric", month: "long", timeZone: zone.value } as const;
  return atOf(iso).toLocaleDateString(locale.value, form);
}

/** Changes that are shown before somebody asks for more. */
const fewest = 25;

/** What happened to alarms, newest first, day by day. */
export function AlarmLog({ changes }: { readonly changes: readonly AlarmChangeView[] }) {
  const shown = changes.filter(({ why }) => why !== "judged" && why !== "not-judged");
  const [isWhole, show] = useState(false);
  const rows = isWhole ? shown : shown.slice(0, fewest);
  return (
    <>
      <ol class="log">
        {rows.flatMap((change, at) => {
          const before = rows[at - 1];
          const isNewDay = !before || dayOf(atOf(before.at)) !== dayOf(atOf(change.at));
          return [
            ...(isNewDay
              ? [
                  <li key={`day ${dayOf(atOf(change.at))}`} class="dayh">
                    {dayWords(change.at, gatewayNowMs.value)}
                  </li>,
                ]
              : []),
            <Change key={change.id} change={change} />,
          ];
        })}
      </ol>
      {rows.length < shown.length && (
        <button type="button" class="btn" onClick={() => show(true)}>
          {say(w.chart.showAll, { count: shown.length })}
        </button>
      )}
    </>
  );
}

function Change({ change: { at, why, by, alarm } }: { readonly change: AlarmChangeView }) {
  const number =
    alarm.value !== null && (why === "raised" || why === "raised-gross")
      ? `, ${inUnit(alarm.value, alarm.unit)}`
      : "";
  return (
    <li>
      <time dateTime={at}>{timeOfDay(atOf(at))}</time>
      <AlarmMark attention={alarm.attention} />
      <span>
        <b>{headlineOf(alarm)}</b> · {changeWords(why)}
        {by ? ` ${say(w.alarmWords.by, { person: byWords(by) })}` : ""}
        {number}
      </span>
    </li>
  );
}
