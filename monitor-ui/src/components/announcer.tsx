import { useEffect, useRef, useState } from "preact/hooks";
import { announced } from "../data/announced.ts";
import { alarms, line, lost } from "../data/state.ts";
import { headlineOf, toDoOf } from "../format/headlines.ts";
import { verdictWords } from "../format/words.ts";
import { w } from "../words/words.ts";
import { detailOf } from "./alarm-detail.ts";

/** Said again, the same words must differ from what stands: else nobody hears them. */
const after = (words: readonly string[]) => (stands: string) => {
  const said = words.join(". ");
  return said === "" ? stands : said === stands ? `${said}\u00a0` : said;
};

/** Tells a screen reader, once each: new alarms, a drum's new word, contact lost and found. Values are never announced. */
export function Announcer() {
  const told = useRef(new Set<string>());
  const verdicts = useRef(new Map<string, string>());
  const wasLost = useRef(false);
  const [now, sayNow] = useState("");
  const [later, sayLater] = useState("");
  const [shown, standing, isLost] = [line.value, alarms.value, lost.value];
  useEffect(() => {
    // What comes together is said together: of two that are written one after the other only the last is heard.
    const [urgent, calm]: [string[], string[]] = [[], []];
    if (isLost && !wasLost.current && shown !== null) urgent.push(w.frame.contactLost);
    else if (!isLost && wasLost.current) calm.push(w.frame.contactBack);
    wasLost.current = isLost && shown !== null;
    const ids = new Set<string>();
    for (const alarm of standing) {
      const id = `${alarm.key} ${alarm.occurrence}`;
      ids.add(id);
      if (told.current.has(id) || alarm.state !== "unacknowledged") continue;
      if (alarm.attention === "wake")
        urgent.push(`${headlineOf(alarm)}. ${detailOf(alarm)}. ${toDoOf(alarm)}`);
      else calm.push(headlineOf(alarm));
    }
    told.current = ids;
    for (const { id, title, water } of isLost ? [] : (shown?.drums ?? [])) {
      const was = verdicts.current.get(id);
      verdicts.current.set(id, water.verdict);
      if (was !== undefined && was !== water.verdict) calm.push(`${title}: ${verdictWords(water.verdict)}`);
    }
    sayNow(after(urgent));
    sayLater(after(calm));
  }, [shown, standing, isLost]);
  const result = announced.value;
  useEffect(() => {
    if (result === "") return;
    sayLater(after([result]));
    announced.value = "";
  }, [result]);
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
