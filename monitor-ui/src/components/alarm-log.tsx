import type { AlarmChangeView } from "@drumlin/gateway/contract";
import { gatewayNowMs } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { figure } from "../format/numbers.ts";
import { changeWords } from "../format/words.ts";
import { AlarmMark } from "./alarm-mark.tsx";

const unitWords: Readonly<Record<string, string>> = { "uS/cm": "µS/cm", Cel: "°C" };

function dayOf(iso: string): string {
  return new Date(iso).toDateString();
}

function dayWords(iso: string, nowMs: number): string {
  if (dayOf(iso) === new Date(nowMs).toDateString()) return "Today";
  if (dayOf(iso) === new Date(nowMs - 86_400_000).toDateString()) return "Yesterday";
  return new Date(iso).toLocaleDateString(undefined, { weekday: "long", day: "numeric", month: "long" });
}

function timeWords(iso: string): string {
  return new Date(iso).toLocaleTimeString(undefined, {
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
}

/** What happened to alarms, newest first, day by day. */
export function AlarmLog({ changes }: { readonly changes: readonly AlarmChangeView[] }) {
  const shown = changes.filter(({ why }) => why !== "judged" && why !== "not-judged");
  return (
    <ol class="log">
      {shown.flatMap((change, at) => {
        const before = shown[at - 1];
        const isNewDay = !before || dayOf(before.at) !== dayOf(change.at);
        return [
          ...(isNewDay
            ? [
                <li key={`day ${dayOf(change.at)}`} class="dayh">
                  {dayWords(change.at, gatewayNowMs.value)}
                </li>,
              ]
            : []),
          <Change key={change.id} change={change} />,
        ];
      })}
    </ol>
  );
}

function Change({ change: { at, why, by, alarm } }: { readonly change: AlarmChangeView }) {
  const number =
    alarm.value !== null && why.startsWith("raised")
      ? `, ${figure(alarm.value)} ${unitWords[alarm.unit] ?? alarm.unit}`
      : "";
  return (
    <li>
      <time dateTime={at}>{timeWords(at)}</time>
      <AlarmMark attention={alarm.attention} />
      <span>
        <b>{headlineOf(alarm)}</b> · {changeWords(why)}
        {by ? ` by ${by}` : ""}
        {number}
      </span>
    </li>
  );
}
