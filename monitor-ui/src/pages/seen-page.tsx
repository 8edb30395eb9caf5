import { useEffect, useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { isSeenForGood } from "../components/seen-buttons.tsx";
import { ActAnswer, ActButton, useActs } from "../components/use-acts.tsx";
import { lookAtLink, useLink } from "../data/messages.ts";
import { query } from "../data/route.ts";
import { alarms, line, lost } from "../data/state.ts";
import { headlineOf, toDoOf } from "../format/headlines.ts";
import { capital } from "../format/words.ts";
import { w } from "../words/words.ts";

/** Where a link in a message leads: it asks once more, and marks that one occurrence as seen. */
export function SeenPage() {
  const acts = useActs();
  const token = query.value.get("token") ?? "";
  const [key, know] = useState<string | null>(null);
  const [problem, say] = useState("");
  const isHeard = line.value !== null && !lost.value;
  useEffect(() => {
    if (!isHeard) return;
    void lookAtLink(token).then((sent) => {
      if (!sent.taken) say(sent.problem);
      else if (!sent.told.stands) say(w.door.endedMeanwhile);
      else know(sent.told.key);
    });
  }, [token, isHeard]);
  const alarm = alarms.value.find((one) => one.key === key);
  const name = alarm ? headlineOf(alarm) : w.door.thisAlarm;
  return (
    <PageFrame title={w.door.seenTitle}>
      <Card>
        {key === null ? (
          <p role="status">{problem === "" ? w.door.looking : problem}</p>
        ) : (
          <>
            <h2>{capital(name)}</h2>
            {alarm && <p class="do">{toDoOf(alarm)}</p>}
            <div class="acts after" ref={acts.host}>
              <ActButton
                acts={acts}
                first
                name={w.door.yesSeen}
                subject={name}
                done={w.alarmWords.markedSeen}
                send={() => useLink(token)}
              />
              <a class="btn" href="#alarms">
                {w.door.allAlarms}
              </a>
              <ActAnswer acts={acts} />
              <p class="sm soft final">
                {alarm && isSeenForGood(alarm) ? w.alarmWords.seenFinal : w.door.seenUndo}
              </p>
            </div>
          </>
        )}
        {key === null && (
          <p>
            <a class="btn" href="#alarms">
              {w.door.allAlarms}
            </a>
          </p>
        )}
      </Card>
    </PageFrame>
  );
}
