import type { ComponentChildren } from "preact";
import type { Sent } from "../data/send.ts";
import { w } from "../words/words.ts";
import { Field } from "./field.tsx";
import { ActAnswer, useActs } from "./use-acts.tsx";

interface AskFormProps {
  /** What its button says. */
  readonly act: string;
  /** Said when it was taken; the fields are empty then. */
  readonly done: (fields: Readonly<Record<string, string>>) => string;
  readonly send: (fields: Readonly<Record<string, string>>) => Promise<Sent>;
  /** Fields with names: what is typed is sent under them. */
  readonly children: ComponentChildren;
}

/** A form that sends what its fields hold, with the answer beside its button. */
export function AskForm({ act, done, send, children }: AskFormProps) {
  const acts = useActs();
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const fields = Object.fromEntries(new FormData(form)) as Record<string, string>;
    void acts.run(act, done(fields), () => send(fields)).then((taken) => taken && form.reset());
  };
  return (
    <form class="form" onSubmit={submit}>
      <div class="across" ref={acts.host}>
        {children}
        <button type="submit" class="btn" aria-disabled={acts.busy !== ""}>
          {acts.busy === "" ? act : w.frame.saving}
        </button>
        <ActAnswer acts={acts} />
      </div>
    </form>
  );
}

/** A role to choose. */
export function RoleField({ hint }: { readonly hint?: string }) {
  return (
    <Field label={w.peopleWords.role} {...(hint === undefined ? {} : { hint })}>
      <select name="role">
        <option value="viewer">{w.frame.roles.viewer}</option>
        <option value="operator">{w.frame.roles.operator}</option>
      </select>
    </Field>
  );
}

/** A password that does not exist yet. */
export function NewPasswordField({ label, hint }: { readonly label: string; readonly hint: string }) {
  return (
    <Field label={label} hint={hint}>
      <input name="password" type="password" autocomplete="new-password" required minLength={10} />
    </Field>
  );
}
