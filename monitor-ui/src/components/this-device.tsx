import { useState } from "preact/hooks";
import { me } from "../data/me.ts";
import { type DeviceWishes, takeMessages, whyNoMessages } from "../data/this-device.ts";
import { language, say, w } from "../words/words.ts";
import { Field } from "./field.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** What is asked of somebody whose device is to take messages. */
function useWishes(name: string) {
  const [title, nameIt] = useState(say(w.told.deviceOf, { name }));
  const [takes, choose] = useState<DeviceWishes["takes"]>("tell");
  const [tongue, speak] = useState<DeviceWishes["language"]>(language.value);
  const [hasQuiet, rest] = useState(false);
  const [from, begin] = useState("22:00");
  const [to, end] = useState("06:00");
  const wishes: DeviceWishes = { title, takes, language: tongue, quiet: hasQuiet ? { from, to } : null };
  const fields = (
    <>
      <Field label={w.told.called} hint={w.told.calledHint}>
        <input value={title} maxLength={80} onInput={({ currentTarget }) => nameIt(currentTarget.value)} />
      </Field>
      <Field label={w.told.toldOf}>
        <select
          value={takes}
          onChange={({ currentTarget }) => choose(currentTarget.value as DeviceWishes["takes"])}
        >
          <option value="wake">{w.attentions.wake}</option>
          <option value="tell">{w.told.takes.tell}</option>
          <option value="today">{w.told.everything}</option>
        </select>
      </Field>
      <Field label={w.told.language}>
        <select
          value={tongue}
          onChange={({ currentTarget }) => speak(currentTarget.value as DeviceWishes["language"])}
        >
          <option value="en" lang="en">
            English
          </option>
          <option value="de" lang="de">
            Deutsch
          </option>
        </select>
      </Field>
      <label class="check">
        <input
          type="checkbox"
          checked={hasQuiet}
          onChange={({ currentTarget }) => rest(currentTarget.checked)}
        />
        <span>{w.told.quietHint}</span>
      </label>
      {hasQuiet && (
        <>
          <Field label={w.told.quietFrom}>
            <input type="time" value={from} onInput={({ currentTarget }) => begin(currentTarget.value)} />
          </Field>
          <Field label={w.told.quietUntil}>
            <input type="time" value={to} onInput={({ currentTarget }) => end(currentTarget.value)} />
          </Field>
        </>
      )}
    </>
  );
  return { wishes, fields };
}

/** Lets this device take messages, also while the page is closed. */
export function ThisDevice({ pushKey, again }: { readonly pushKey: string; readonly again: () => void }) {
  const acts = useActs();
  const why = whyNoMessages();
  const name = me.value?.signedIn?.kind === "person" ? me.value.signedIn.name : null;
  const { wishes, fields } = useWishes(name ?? "");
  if (why !== null || name === null) return <p class="meta">{why ?? w.told.signInOwn}</p>;
  return (
    <details class="silence device-form">
      <summary>{w.told.toDeviceMore}</summary>
      <div class="fields" ref={acts.host}>
        {fields}
        <div class="acts">
          <ActButton
            acts={acts}
            name={w.told.sendHere}
            subject={name}
            done={w.told.deviceTakes}
            send={async () => {
              const sent = await takeMessages(pushKey, wishes);
              again();
              return sent;
            }}
          />
        </div>
      </div>
      <ActAnswer acts={acts} />
    </details>
  );
}
