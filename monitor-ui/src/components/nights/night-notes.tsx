import type { NightView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { mayAct } from "../../data/me.ts";
import { noteOnNight, noteSubject } from "../../data/nights.ts";
import { titleOf } from "../../data/state.ts";
import { byWords } from "../../format/by-words.ts";
import { timeIn } from "../../format/night-words.ts";
import { say, w } from "../../words/words.ts";

interface NightNotesProps {
  readonly night: NightView;
  readonly changed: () => void;
}

/** What a person did, in words; an act that the page does not know is shown by its name. */
const actWords = (what: string): string =>
  Object.hasOwn(w.nightWords.acts, what)
    ? w.nightWords.acts[what as keyof typeof w.nightWords.acts]
    : what.replaceAll("-", " ");

/** What people did in a night or the morning after, and what they wrote; a note can be added. */
export function NightNotes({ night, changed }: NightNotesProps) {
  const [text, write] = useState("");
  const [told, tell] = useState("");
  const notes = night.acts.filter(
    ({ what, subject }) => what === "note" && (subject === "" || subject === noteSubject(night.date)),
  );
  const others = night.acts.filter((act) => !notes.includes(act));
  const save = async () => {
    const sent = await noteOnNight(night.date, text.trim());
    tell(sent.taken ? w.frame.saved : sent.problem);
    if (!sent.taken) return;
    write("");
    changed();
  };
  return (
    <>
      {others.length > 0 && (
        <section>
          <h2>{w.nightWords.doneByPeople}</h2>
          <ul class="log">
            {others.map(({ at, by, what, subject, until, note }) => (
              <li key={`${at} ${what} ${subject}`}>
                <time dateTime={at}>{timeIn(night.timezone, at)}</time>
                <span>
                  {byWords(by)}: {actWords(what)}
                  {subject === "" ? "" : `, ${titleOf(subject)}`}
                  {until === null
                    ? ""
                    : `, ${say(w.alarmWords.until, { time: timeIn(night.timezone, until) })}`}
                  {note === null ? "" : `, “${note}”`}
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section>
        <h2>{w.nightWords.notes}</h2>
        {notes.map(({ at, by, note }) => (
          <p class="sm" key={at}>
            {note} <span class="soft">· {byWords(by)}</span>
          </p>
        ))}
        {mayAct.value && (
          <div class="noprint form">
            <label class="field">
              <span class="vh">{w.nightWords.noteOn}</span>
              <textarea
                rows={2}
                maxLength={2000}
                value={text}
                onInput={({ currentTarget }) => write(currentTarget.value)}
              />
            </label>
            <button
              type="button"
              class="btn"
              // Not disabled: what has focus while it is saved must keep it.
              aria-disabled={text.trim() === ""}
              onClick={() => text.trim() !== "" && void save()}
            >
              {w.nightWords.saveNote}
            </button>
            <p role="status" class="sm">
              {told}
            </p>
          </div>
        )}
      </section>
    </>
  );
}
