import type { AlarmChangeView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { AlarmList, NewAlarms } from "../components/alarm-list.tsx";
import { AlarmLog } from "../components/alarm-log.tsx";
import { useAlarmPlaces } from "../components/alarm-places.ts";
import { SoundTest } from "../components/alarm-sound.tsx";
import { AlarmWeek } from "../components/alarm-week.tsx";
import { Card } from "../components/card.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { WorkStart } from "../components/work-start.tsx";
import { alarmJournal } from "../data/lists.ts";
import { alarms, line, lost } from "../data/state.ts";
import { say, w } from "../words/words.ts";

/** The page Alarms: what stands, with its acts, and what happened, newest first. */
export function AlarmsPage() {
  const [changes, show] = useState<readonly AlarmChangeView[]>([]);
  const [next, setNext] = useState<string | null | undefined>(undefined);
  const [failed, fail] = useState(false);
  const places = useAlarmPlaces();
  const load = async (after: string | null) => {
    const page = await alarmJournal(after);
    fail(!page);
    if (!page) return;
    // New ones go on top of what is shown: whoever reads older pages keeps them.
    show((before) => {
      const known = new Set(before.map(({ id }) => id));
      const fresh = page.items.filter(({ id }) => !known.has(id));
      return after === null ? [...fresh, ...before] : [...before, ...fresh];
    });
    setNext((before) => (after === null && before !== undefined ? before : page.next));
  };
  // What changed on the live stream is in the journal too: the list is asked anew when an alarm did.
  const heard = alarms.value.map(({ key, occurrence, state }) => `${key} ${occurrence} ${state}`).join();
  useEffect(() => {
    void load(null);
  }, [heard]);
  return (
    <PageFrame title={w.frame.alarms} beside={<NewAlarms places={places} />}>
      {line.value === null && <p class="soft">{w.frame.connecting}</p>}
      <div class="alarm-page">
        <div>
          {line.value !== null && alarms.value.length === 0 && (
            <p>{lost.value ? w.alarmWords.noneStood : w.alarmWords.none}</p>
          )}
          <AlarmList places={places} />
        </div>
        <div>
          <AlarmWeek />
          <WorkStart />
          <Card title={w.alarmWords.sound}>
            <SoundTest />
          </Card>
        </div>
        <Card title={w.alarmWords.log}>
          {failed && (
            <p class="problem" role="status">
              {say(w.frame.couldNotLoad, { what: w.alarmWords.theLog })}{" "}
              <button type="button" onClick={() => void load(null)}>
                {w.frame.tryAgain}
              </button>
            </p>
          )}
          {!failed && next !== undefined && changes.length === 0 && (
            <p class="soft">{w.alarmWords.logEmpty}</p>
          )}
          <AlarmLog changes={changes} />
          {next !== null && next !== undefined && (
            <button type="button" class="btn" onClick={() => void load(next)}>
              {w.alarmWords.older}
            </button>
          )}
        </Card>
      </div>
    </PageFrame>
  );
}
