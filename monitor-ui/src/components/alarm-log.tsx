import type { AlarmChangeView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { storiesOf } from "../data/alarm-stories.ts";
import { gatewayNowMs } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { headlineOf } from "../format/headlines.ts";
import { locale, zone } from "../format/locale.ts";
import { dayOf, timeOfDay } from "../format/numbers.ts";
import { changeWords } from "../format/words.ts";
import { say, w } from "../words/words.ts";
import { raisedValueOf } from "./alarm-detail.ts";
import { AlarmMark } from "./alarm-mark.tsx";
import { Field } from "./field.tsx";

const atOf = (iso: string) => new Date(iso);

function dayWords(iso: string, nowMs: number): string {
  const day = dayOf(atOf(iso));
  if (day === dayOf(new Date(nowMs))) return w.alarmWords.today;
  if (day === dayOf(new Date(nowMs - 86_400_000))) return w.alarmWords.yesterday;
  const form = { weekday: "long", day: "numeric", month: "long", timeZone: zone.value } as const;
  return atOf(iso).toLocaleDateString(locale.value, form);
}

/** Rows that are shown before somebody asks for more. */
const fewest = 25;
/** So many are found by looking. */
const few = 5;

/** What happened to alarms, newest first, day by day. */
export function AlarmLog({ changes }: { readonly changes: readonly AlarmChangeView[] }) {
  const [wanted, want] = useState("");
  const [isWhole, show] = useState(false);
  const told = changes.filter(({ why }) => why !== "judged" && why !== "not-judged");
  const word = wanted.trim().toLocaleLowerCase();
  const found = told.filter((change) =>
    `${headlineOf(change.alarm)} ${stepWords(change)}`.toLocaleLowerCase().includes(word),
  );
  const stories = storiesOf(found);
  return (
    <>
      {told.length > few && (
        <div class="log-find noprint">
          <Field label={w.trendWords.find} hint={w.alarmWords.findHint}>
            <input type="search" value={wanted} onInput={({ currentTarget }) => want(currentTarget.value)} />
          </Field>
        </div>
      )}
      {told.length > 0 && found.length === 0 && (
        <p class="soft">{say(w.alarmWords.noneFound, { count: told.length })}</p>
      )}
      <ol class="log">
        {stories.flatMap((story, at) => {
          const [newest] = story.changes;
          if (!newest) return [];
          const isOnPaper = !isWhole && at >= fewest;
          return [
            ...(stories[at - 1]?.day === story.day
              ? []
              : [
                  <li key={`day ${story.day}`} class={isOnPaper ? "dayh paper-only" : "dayh"}>
                    {dayWords(newest.at, gatewayNowMs.value)}
                  </li>,
                ]),
            <Story
              key={`${story.day} ${newest.alarm.key}`}
              newest={newest}
              changes={story.changes}
              isOnPaper={isOnPaper}
            />,
          ];
        })}
      </ol>
      {!isWhole && stories.length > fewest && (
        <button type="button" class="btn" onClick={() => show(true)}>
          {say(w.chart.showAll, { count: stories.length })}
        </button>
      )}
    </>
  );
}

/** What a change was: "raised, 7.4 µS/cm", "seen by Mara". */
function stepWords({ why, by, alarm }: AlarmChangeView): string {
  const isRaised = alarm.value !== null && (why === "raised" || why === "raised-gross");
  const number = isRaised ? `, ${raisedValueOf(alarm)}` : "";
  return `${changeWords(why)}${by ? ` ${say(w.alarmWords.by, { person: byWords(by) })}` : ""}${number}`;
}

interface StoryProps {
  readonly newest: AlarmChangeView;
  readonly changes: readonly AlarmChangeView[];
  /** On a screen it is folded away. */
  readonly isOnPaper: boolean;
}

/** One alarm on one day: its name, then what happened, in the order of time. */
function Story({ newest, changes, isOnPaper }: StoryProps) {
  const { at, alarm } = newest;
  return (
    <li class={isOnPaper ? "paper-only" : ""}>
      <time dateTime={at}>{timeOfDay(atOf(at))}</time>
      <AlarmMark attention={alarm.attention} />
      <span>
        <b>{headlineOf(alarm)}</b>
        {changes.length === 1 ? (
          ` · ${stepWords(newest)}`
        ) : (
          <span class="steps-of">
            {changes.toReversed().map((change) => (
              <span key={change.id}>
                <time dateTime={change.at}>{timeOfDay(atOf(change.at))}</time> {stepWords(change)}
              </span>
            ))}
          </span>
        )}
      </span>
    </li>
  );
}
