import { useState } from "preact/hooks";
import { mayAct } from "../data/me.ts";
import { sayWork } from "../data/messages.ts";
import { line } from "../data/state.ts";
import { duration } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { Card } from "./card.tsx";
import { Field } from "./field.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

const times = [30, 60, 120] as const;

const keyOf = ({ kind, id }: { readonly kind: string; readonly id: string }) => `${kind}/${id}`;

/** "I'm working on the resin": what that can cause is silent for the time, never a drum's stop. */
export function WorkStart() {
  const acts = useActs();
  const [chosen, choose] = useState("");
  const now = line.value;
  if (!now || !mayAct.value || now.stages.length + now.drums.length === 0) return null;
  const subjects = [
    ...now.stages.map(({ id, title }) => ({ kind: "stage" as const, id, title })),
    ...now.drums.map(({ id, title }) => ({ kind: "drum" as const, id, title })),
  ];
  const subject = subjects.find((one) => keyOf(one) === chosen) ?? subjects[0];
  if (!subject) return null;
  return (
    <Card title={w.alarmWords.workTitle}>
      <div class="work-start">
        <Field label={w.alarmWords.workWhat} hint={w.alarmWords.workHint}>
          {/* What is shown is what is meant: a list box without a value would look empty, and mean the first. */}
          <select value={keyOf(subject)} onChange={({ currentTarget }) => choose(currentTarget.value)}>
            {subjects.map((one) => (
              <option key={keyOf(one)} value={keyOf(one)}>
                {one.title}
              </option>
            ))}
          </select>
        </Field>
        <div class="acts" ref={acts.host}>
          {times.map((minutes) => (
            <ActButton
              key={minutes}
              acts={acts}
              name={duration(minutes * 60_000)}
              subject={say(w.alarmWords.workingOn, { title: subject.title })}
              done={say(w.alarmWords.pausedFor, { duration: duration(minutes * 60_000) })}
              send={() => sayWork({ kind: subject.kind, id: subject.id }, minutes)}
            />
          ))}
          <ActAnswer acts={acts} />
        </div>
      </div>
    </Card>
  );
}
