import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { changeMe, me } from "../data/me.ts";
import { w } from "../words/words.ts";

interface FieldProps {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly type?: "password";
  readonly complete: string;
}

function DoorField({ name, label, hint, type, complete }: FieldProps) {
  const common = {
    id: name,
    name,
    autocomplete: complete,
    autocapitalize: "none",
    spellcheck: false,
    required: true,
    ...(hint === undefined ? {} : { "aria-describedby": `${name}-hint` }),
  } as const;
  return (
    <label class="field" for={name}>
      <span>{label}</span>
      {type === "password" ? <input type="password" {...common} /> : <input type="text" {...common} />}
      {hint !== undefined && <small id={`${name}-hint`}>{hint}</small>}
    </label>
  );
}

interface DoorProps {
  readonly title: string;
  readonly button: string;
  readonly what: "sign-in" | "set-up";
  readonly children: ComponentChildren;
}

function Door({ title, button, what, children }: DoorProps) {
  const [problem, setProblem] = useState("");
  const [busy, setBusy] = useState(false);
  async function submit(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const fields = [...new FormData(event.currentTarget as HTMLFormElement)];
    setBusy(true);
    setProblem(
      await changeMe(what, Object.fromEntries(fields.map(([name, value]) => [name, String(value)]))),
    );
    setBusy(false);
  }
  return (
    <main class="door">
      <form onSubmit={(event) => void submit(event as unknown as SubmitEvent)}>
        <h1>{title}</h1>
        {children}
        {problem !== "" && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        {me.value?.plain && <p class="plain">{w.door.withoutTls}</p>}
        <button type="submit" class="btn first big" disabled={busy}>
          {button}
        </button>
      </form>
    </main>
  );
}

/** Asks who looks, where the gateway has accounts. */
export function SignInPage() {
  return (
    <Door title="Drumlin" button={w.door.signIn} what="sign-in">
      <DoorField name="name" label={w.peopleWords.name} complete="username" />
      <DoorField name="password" label={w.peopleWords.password} type="password" complete="current-password" />
    </Door>
  );
}

/** Makes the first account, with the code that the gateway printed. */
export function SetUpPage() {
  return (
    <Door title={w.door.firstAccount} button={w.door.makeAccount} what="set-up">
      <p class="soft sm">{w.door.untilExists}</p>
      <DoorField name="code" label={w.door.code} complete="one-time-code" hint={w.door.codeHint} />
      <DoorField name="name" label={w.peopleWords.name} complete="username" />
      <DoorField
        name="password"
        label={w.peopleWords.password}
        type="password"
        complete="new-password"
        hint={w.door.passwordHint}
      />
    </Door>
  );
}
