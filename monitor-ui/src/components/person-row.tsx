import type { Person } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { remove, type Sent, send } from "../data/send.ts";
import { Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";
import { ActAnswer, ActButton, type Acts, useActs } from "./use-acts.tsx";

type People = { readonly items: readonly Person[] };

interface PersonRowProps {
  readonly person: Person;
  readonly isOneself: boolean;
  readonly changed: (people: readonly Person[]) => void;
}

function NewPassword({
  name,
  acts,
  close,
}: {
  readonly name: string;
  readonly acts: Acts;
  readonly close: () => void;
}) {
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const password = String(new FormData(event.currentTarget as HTMLFormElement).get("password"));
    void acts
      .run("Save", `${name} signs in with the new password; every session is ended.`, () =>
        send(`/api/people/${encodeURIComponent(name)}/password`, { password }),
      )
      .then((taken) => taken && close());
  };
  return (
    <Sheet title={`New password for ${name}`} onClose={close}>
      <form class="form" onSubmit={submit}>
        <Field label="Password" hint="Tell it to them; they can change it. At least 10 letters.">
          <input name="password" type="password" autocomplete="new-password" required minLength={10} />
        </Field>
        <button type="submit" class="btn">
          Save
        </button>
        <ActAnswer acts={acts} />
      </form>
    </Sheet>
  );
}

function Remove({
  name,
  act,
  close,
}: {
  readonly name: string;
  readonly act: () => Promise<boolean>;
  readonly close: () => void;
}) {
  return (
    <Sheet title={`Remove ${name}?`} onClose={close}>
      <p>
        Their account and sessions go; what they did stays in the log under their name. It can't be undone: to
        keep them out for a while, disable them instead.
      </p>
      <button type="button" class="btn" onClick={() => void act().then(close)}>
        Remove {name}
      </button>
    </Sheet>
  );
}

/** One person: their role, and what an operator can do about them. */
export function PersonRow({ person, isOneself, changed }: PersonRowProps) {
  const { name, role, disabled } = person;
  const acts = useActs();
  const [open, setOpen] = useState<"password" | "remove" | null>(null);
  const path = `/api/people/${encodeURIComponent(name)}`;
  const shown = (sending: Promise<Sent<People>>) =>
    sending.then((sent) => {
      if (sent.taken) changed(sent.told.items);
      return sent;
    });
  const otherRole = role === "operator" ? "viewer" : "operator";
  return (
    <li class="person">
      <p>
        <b>{name}</b>
        {isOneself && " (you)"} <span class="soft">{role}</span>
        {disabled && <span class="tag">disabled</span>}
      </p>
      <div class="acts" ref={acts.host}>
        <ActButton
          acts={acts}
          name={`Make ${otherRole}`}
          subject={name}
          done={`${name} is ${otherRole} now.`}
          send={() => shown(send<People>(`${path}/role`, { role: otherRole }))}
        />
        {!isOneself && (
          <ActButton
            acts={acts}
            name={disabled ? "Enable" : "Disable"}
            subject={name}
            done={disabled ? `${name} may sign in again.` : `${name} may not sign in for now.`}
            send={() => shown(send<People>(`${path}/disabled`, { disabled: !disabled }))}
          />
        )}
        <ActButton
          acts={acts}
          name="End sessions"
          subject={name}
          done={`${name} is signed out everywhere.`}
          send={() => shown(send<People>(`${path}/sign-out`, {}))}
        />
        {!isOneself && (
          <>
            <button type="button" onClick={() => setOpen("password")}>
              New password…
            </button>
            <button type="button" onClick={() => setOpen("remove")}>
              Remove…
            </button>
          </>
        )}
      </div>
      <ActAnswer acts={acts} />
      {open === "password" && <NewPassword name={name} acts={acts} close={() => setOpen(null)} />}
      {open === "remove" && (
        <Remove
          name={name}
          act={() => acts.run("Remove", `${name} is removed.`, () => shown(remove<People>(path)))}
          close={() => setOpen(null)}
        />
      )}
    </li>
  );
}
