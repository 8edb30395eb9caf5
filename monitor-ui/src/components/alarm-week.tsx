import type { AlarmFiguresView, SilenceView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { silences, weekFigures } from "../data/messages.ts";
import { alarms, gatewayNowMs } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { clock, duration } from "../format/numbers.ts";
import { Card } from "./card.tsx";

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
    return alarm ? headlineOf(alarm) : key;
  };
  return (
    <>
      {figures && (
        <Card title="This week">
          <p>{figures.sentence}</p>
          <p class="meta">
            {figures.callsPerDay.toFixed(1)} calls a day
            {figures.medianUntilSeen === null
              ? ""
              : ` · median time until seen ${duration(figures.medianUntilSeen * 1000)}`}
            {figures.stale.length > 0 ? ` · ${figures.stale.length} stand longer than a day` : ""}
          </p>
        </Card>
      )}
      {silent.length > 0 && (
        <Card title="Can't ring now">
          <ul class="plain">
            {silent.map(({ key, state, until, by, reason }) => (
              <li key={key}>
                <b>{nameOf(key)}</b> · {state === "out-of-service" ? "switched off" : "silent"}
                {by ? ` by ${by}` : ""}
                {until ? ` until ${clock(until, gatewayNowMs.value)}` : ""}
                {reason
                  ? ` · ${reason}`
                  : state === "suppressed-by-design"
                    ? " · work in progress"
                    : " · no reason given"}
              </li>
            ))}
          </ul>
        </Card>
      )}
    </>
  );
}
