import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { changeMe, me } from "../data/me.ts";

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
        {me.value?.plain && (
          <p class="plain">
            This page came without TLS. Anyone on this network can read what you type. That was chosen on
            purpose, for a network you trust.
          </p>
        )}
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
    <Door title="Drumlin" button="Sign in" what="sign-in">
      <DoorField name="name" label="Name" complete="username" />
      <DoorField name="password" label="Password" type="password" complete="current-password" />
    </Door>
  );
}

/** Makes the first account, with the code that the gateway printed. */
export function SetUpPage() {
  return (
    <Door title="The first account" button="Make the account" what="set-up">
      <p class="soft sm">
        Until it exists nobody can change anything, and only this machine can look. You can add others later.
      </p>
      <DoorField
        name="code"
        label="Set-up code"
        complete="one-time-code"
        hint="Four groups of four, printed by the gateway when it started."
      />
      <DoorField name="name" label="Name" complete="username" />
      <DoorField
        name="password"
        label="Password"
        type="password"
        complete="new-password"
        hint="At least 10 characters. A sentence is good."
      />
    </Door>
  );
}
