import type { AlarmFiguresView, SilenceView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { silences, weekFigures } from "../data/messages.ts";
import { alarms, gatewayNowMs } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { headlineOf } from "../format/headlines.ts";
import { clock, duration, whole } from "../format/numbers.ts";
import { count, say, w } from "../words/words.ts";
import { Card } from "./card.tsx";

const few = 3;

/** The week in a sentence or two: how many rang, how many needed somebody, and what rang most. */
function weekWords({ calls, needed, conditions, chattering }: AlarmFiguresView): string {
  if (calls === 0) return w.alarmWords.weekNone;
  const seen = needed === 0 ? w.alarmWords.weekUnseen : count(w.alarmWords.weekNeeded, needed);
  const said = `${count(w.alarmWords.weekCalls, calls)}, ${seen}.`;
  const [worst] = conditions;
  const titles: Readonly<Record<string, { readonly title: string }>> = w.conditions;
  if (worst !== undefined && worst.calls > few && worst.calls * 2 >= calls)
    return `${said} ${say(w.alarmWords.weekOften, {
      count: worst.calls,
      condition: titles[worst.condition]?.title ?? worst.condition,
    })}`;
  const [chatter] = chattering;
  if (chatter === undefined) return said;
  return `${said} ${say(w.alarmWords.weekChatter, { headline: headlineOfKey(chatter) })}`;
}

/** What an alarm says whose key is all that is known of it: "float-chatter:fresh.stop". */
function headlineOfKey(key: string): string {
  const at = key.indexOf(":");
  return headlineOf({ condition: key.slice(0, at), subject: key.slice(at + 1), text: key.slice(0, at) });
}

/** The week in a sentence, and what can't ring now, with reason and end. */
export function AlarmWeek() {
  const [figures, show] = useState<AlarmFiguresView | null>(null);
  const [silent, list] = useState<readonly SilenceView[]>([]);
  const heard = alarms.value.map(({ key, occurrence, state }) => `${key} ${occurrence} ${state}`).join();
  useEffect(() => {
    void weekFigures().then(show);
    void silences().then((items) => list(items ?? []));
  }, [heard]);
  const nameOf = (key: string) => {
    const alarm = alarms.value.find((one) => one.key === key);
    return alarm ? headlineOf(alarm) : headlineOfKey(key);
  };
  return (
    <>
      {figures && (
        <Card title={w.alarmWords.week}>
          <p>{weekWords(figures)}</p>
          <p class="meta">
            {say(w.alarmWords.callsADay, { count: whole(figures.callsPerDay, 1) })}
            {figures.medianUntilSeen === null
              ? ""
              : ` · ${say(w.alarmWords.medianSeen, { duration: duration(figures.medianUntilSeen * 1000) })}`}
            {figures.stale.length > 0 ? ` · ${count(w.alarmWords.stale, figures.stale.length)}` : ""}
          </p>
        </Card>
      )}
      {silent.length > 0 && (
        <Card title={w.alarmWords.cantRing}>
          <ul class="plain">
            {silent.map(({ key, state, until, by, reason }) => (
              <li key={key}>
                <b>{nameOf(key)}</b> ·{" "}
                {state === "out-of-service" ? w.alarmWords.offState : w.alarmWords.silentState}
                {by ? ` ${say(w.alarmWords.by, { person: byWords(by) })}` : ""}
                {until ? ` ${say(w.alarmWords.until, { time: clock(until, gatewayNowMs.value) })}` : ""}
                {reason
                  ? ` · ${reason}`
                  : state === "suppressed-by-design"
                    ? ` · ${w.alarmWords.workInProgress}`
                    : ` · ${w.alarmWords.noReason}`}
              </li>
            ))}
          </ul>
        </Card>
      )}
    </>
  );
}
