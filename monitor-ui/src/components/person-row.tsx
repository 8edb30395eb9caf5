import type { Person } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { remove, type Sent, send } from "../data/send.ts";
import { roleWords } from "../format/words.ts";
import { say, w } from "../words/words.ts";
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
      .run(w.frame.save, say(w.peopleWords.newDone, { name }), () =>
        send(`/api/people/${encodeURIComponent(name)}/password`, { password }),
      )
      .then((taken) => taken && close());
  };
  return (
    <Sheet title={say(w.peopleWords.newFor, { name })} onClose={close}>
      <form class="form" onSubmit={submit}>
        <Field label={w.peopleWords.password} hint={w.peopleWords.newHint}>
          <input name="password" type="password" autocomplete="new-password" required minLength={10} />
        </Field>
        <button type="submit" class="btn">
          {w.frame.save}
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
    <Sheet title={say(w.peopleWords.removeAsk, { name })} onClose={close}>
      <p>{w.peopleWords.removeWhat}</p>
      <button type="button" class="btn" onClick={() => void act().then(close)}>
        {say(w.peopleWords.removeDo, { name })}
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
        {isOneself && ` ${w.peopleWords.you}`} <span class="soft">{roleWords(role)}</span>
        {disabled && <span class="tag">{w.peopleWords.disabledTag}</span>}
      </p>
      <div class="acts" ref={acts.host}>
        <ActButton
          acts={acts}
          name={w.peopleWords.make[otherRole]}
          subject={name}
          done={say(w.peopleWords.isNow[otherRole], { name })}
          send={() => shown(send<People>(`${path}/role`, { role: otherRole }))}
        />
        {!isOneself && (
          <ActButton
            acts={acts}
            name={disabled ? w.peopleWords.enable : w.peopleWords.disable}
            subject={name}
            done={say(disabled ? w.peopleWords.enabled : w.peopleWords.disabled, { name })}
            send={() => shown(send<People>(`${path}/disabled`, { disabled: !disabled }))}
          />
        )}
        <ActButton
          acts={acts}
          name={w.peopleWords.endSessions}
          subject={name}
          done={say(w.peopleWords.sessionsEnded, { name })}
          send={() => shown(send<People>(`${path}/sign-out`, {}))}
        />
        {!isOneself && (
          <>
            <button type="button" onClick={() => setOpen("password")}>
              {w.peopleWords.newPassword}
            </button>
            <button type="button" onClick={() => setOpen("remove")}>
              {w.peopleWords.remove}
            </button>
          </>
        )}
      </div>
      <ActAnswer acts={acts} />
      {open === "password" && <NewPassword name={name} acts={acts} close={() => setOpen(null)} />}
      {open === "remove" && (
        <Remove
          name={name}
          act={() =>
            acts.run(w.peopleWords.remove, say(w.peopleWords.removed, { name }), () =>
              shown(remove<People>(path)),
            )
          }
          close={() => setOpen(null)}
        />
      )}
    </li>
  );
}
