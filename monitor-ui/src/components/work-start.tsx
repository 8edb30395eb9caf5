import { useState } from "preact/hooks";
import { mayAct } from "../data/me.ts";
import { sayWork } from "../data/messages.ts";
import { line } from "../data/state.ts";
import { Card } from "./card.tsx";
import { Field } from "./field.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

const times = [
  { minutes: 30, words: "30 min" },
  { minutes: 60, words: "1 h" },
  { minutes: 120, words: "2 h" },
] as const;

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
  const subject = subjects.find(({ kind, id }) => `${kind}/${id}` === chosen) ?? subjects[0];
  if (!subject) return null;
  return (
    <Card title="I'm working on…">
      <Field
        label="What"
        hint="Only what this can cause is paused. Floats, floors and other drums ring as always."
      >
        <select value={chosen} onChange={({ currentTarget }) => choose(currentTarget.value)}>
          {subjects.map(({ kind, id, title }) => (
            <option key={`${kind}/${id}`} value={`${kind}/${id}`}>
              {title}
            </option>
          ))}
        </select>
      </Field>
      <div class="acts" ref={acts.host}>
        {times.map(({ minutes, words }) => (
          <ActButton
            key={minutes}
            acts={acts}
            name={words}
            subject={`working on ${subject.title}`}
            done={`Paused for ${words}. It ends by itself.`}
            send={() => sayWork({ kind: subject.kind, id: subject.id }, minutes)}
          />
        ))}
        <ActAnswer acts={acts} />
      </div>
    </Card>
  );
}
