import { useEffect, useRef, useState } from "preact/hooks";
import { alarms, line, lost } from "../data/state.ts";
import { headlineOf, responseOf } from "../format/headlines.ts";
import { w } from "../words/words.ts";
import { detailOf } from "./alarm-detail.ts";

/** Tells a screen reader, once each: new alarms, contact lost and found. Values are never announced. */
export function Announcer() {
  const told = useRef(new Set<string>());
  const [now, sayNow] = useState("");
  const [later, sayLater] = useState("");
  useEffect(() => {
    const standing = new Set<string>();
    for (const alarm of alarms.value) {
      const id = `${alarm.key} ${alarm.occurrence}`;
      standing.add(id);
      if (told.current.has(id) || alarm.state !== "unacknowledged") continue;
      if (alarm.attention === "wake")
        sayNow(`${headlineOf(alarm)}. ${detailOf(alarm)}. ${responseOf(alarm)}`);
      else sayLater(headlineOf(alarm));
    }
    told.current = standing;
  }, [alarms.value]);
  const known = line.value !== null;
  const before = useRef(false);
  useEffect(() => {
    if (known && lost.value) sayNow(w.frame.contactLost);
    else if (before.current) sayLater(w.frame.contactBack);
    before.current = lost.value;
  }, [lost.value, known]);
  return (
    <>
      <div class="vh" aria-live="assertive" data-announce="now">
        {now}
      </div>
      <div class="vh" aria-live="polite" data-announce="later">
        {later}
      </div>
    </>
  );
}
