import { useState } from "preact/hooks";
import { me } from "../data/me.ts";
import { type DeviceWishes, takeMessages, whyNoMessages } from "../data/this-device.ts";
import { Field } from "./field.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** What is asked of somebody whose device is to take messages. */
function useWishes(name: string) {
  const [title, nameIt] = useState(`${name}'s device`);
  const [takes, choose] = useState<DeviceWishes["takes"]>("tell");
  const [language, speak] = useState<DeviceWishes["language"]>(
    navigator.language.startsWith("de") ? "de" : "en",
  );
  const [hasQuiet, rest] = useState(false);
  const [from, begin] = useState("22:00");
  const [to, end] = useState("06:00");
  const wishes: DeviceWishes = { title, takes, language, quiet: hasQuiet ? { from, to } : null };
  const fields = (
    <>
      <Field label="Called" hint="As this page and the log name it.">
        <input value={title} maxLength={80} onInput={({ currentTarget }) => nameIt(currentTarget.value)} />
      </Field>
      <Field label="Told of">
        <select
          value={takes}
          onChange={({ currentTarget }) => choose(currentTarget.value as DeviceWishes["takes"])}
        >
          <option value="wake">Act now</option>
          <option value="tell">Act now and Act soon</option>
          <option value="today">Everything, with the morning list</option>
        </select>
      </Field>
      <Field label="Language">
        <select
          value={language}
          onChange={({ currentTarget }) => speak(currentTarget.value as DeviceWishes["language"])}
        >
          <option value="en">English</option>
          <option value="de">Deutsch</option>
        </select>
      </Field>
      <label class="check">
        <input
          type="checkbox"
          checked={hasQuiet}
          onChange={({ currentTarget }) => rest(currentTarget.checked)}
        />
        <span>Quiet hours: then only Act now is told here.</span>
      </label>
      {hasQuiet && (
        <>
          <Field label="Quiet from">
            <input type="time" value={from} onInput={({ currentTarget }) => begin(currentTarget.value)} />
          </Field>
          <Field label="Quiet until">
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
  if (why !== null || name === null)
    return <p class="meta">{why ?? "Sign in with an account of your own: messages belong to a person."}</p>;
  return (
    <details class="silence device-form">
      <summary>Send messages to this device…</summary>
      <div class="fields" ref={acts.host}>
        {fields}
        <div class="acts">
          <ActButton
            acts={acts}
            name="Send messages here"
            subject={name}
            done="This device takes messages. Send a test."
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
