import type { NotificationsView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { mayAct } from "../data/me.ts";
import { type PolicyForm as Form, setPolicy } from "../data/messages.ts";
import { w } from "../words/words.ts";
import { Field } from "./field.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** When people are told again: written into the line file. */
export function PolicyForm({ policy }: { readonly policy: NotificationsView["policy"] }) {
  const acts = useActs();
  const [form, change] = useState<Form>(policy);
  const number = (key: "wakeAgain" | "secondAfter" | "tellAgain", label: string, hint: string) => (
    <Field label={label} hint={hint}>
      <input
        type="number"
        inputMode="numeric"
        min={1}
        value={form[key]}
        disabled={!mayAct.value}
        onInput={({ currentTarget }) => change({ ...form, [key]: Number(currentTarget.value) })}
      />
    </Field>
  );
  return (
    <div class="fields across" ref={acts.host}>
      {number("wakeAgain", w.told.wakeAgain, w.told.wakeHint)}
      {number("secondAfter", w.told.secondAfter, w.told.secondHint)}
      {number("tellAgain", w.told.tellAgain, w.told.tellHint)}
      <Field label={w.told.todayAt} hint={w.told.todayHint}>
        <input
          type="time"
          value={form.today}
          disabled={!mayAct.value}
          onInput={({ currentTarget }) => change({ ...form, today: currentTarget.value })}
        />
      </Field>
      <p class="meta">{w.told.recordNever}</p>
      {mayAct.value && (
        <ActButton
          acts={acts}
          name={w.frame.save}
          subject={w.told.whenTold}
          done={w.frame.saved}
          send={() => setPolicy(form)}
        />
      )}
      <ActAnswer acts={acts} />
    </div>
  );
}
