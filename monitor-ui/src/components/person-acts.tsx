import type { Person } from "@drumlin/gateway/contract";
import type { ComponentChildren } from "preact";
import { remove, type Sent, send } from "../data/send.ts";
import { say, w } from "../words/words.ts";
import { AskForm, NewPasswordField } from "./ask-form.tsx";
import { Icon } from "./icon.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

type People = { readonly items: readonly Person[] };

export interface PersonActsProps {
  readonly person: Person;
  readonly isOneself: boolean;
  readonly changed: (people: readonly Person[], told?: string) => void;
}

/** One thing that can be done, and what comes of it. */
function Row({ children, what }: { readonly children: ComponentChildren; readonly what: string }) {
  return (
    <li>
      {children}
      <p class="soft sm">{what}</p>
    </li>
  );
}

/** Something that asks for more before it is done. */
function Folded({ title, children }: { readonly title: string; readonly children: ComponentChildren }) {
  return (
    <li>
      <details>
        <summary>
          <Icon name="next" />
          {title}
        </summary>
        {children}
      </details>
    </li>
  );
}

/** What an operator can do about a person: role, sessions, a new password, out for now or for good. */
export function PersonActs({ person, isOneself, changed }: PersonActsProps) {
  const { name, role, disabled } = person;
  const acts = useActs();
  const path = `/api/people/${encodeURIComponent(name)}`;
  const shown = (sending: Promise<Sent<People>>, told?: string) =>
    sending.then((sent) => {
      if (sent.taken) changed(sent.told.items, told);
      return sent;
    });
  const otherRole = role === "operator" ? "viewer" : "operator";
  return (
    <div class="person-acts" ref={acts.host}>
      <ul>
        <Row what={w.peopleWords.roleHint}>
          <ActButton
            acts={acts}
            name={w.peopleWords.make[otherRole]}
            subject={name}
            done={say(w.peopleWords.isNow[otherRole], { name })}
            send={() => shown(send<People>(`${path}/role`, { role: otherRole }))}
          />
        </Row>
        <Row what={w.peopleWords.endHint}>
          <ActButton
            acts={acts}
            name={w.peopleWords.endSessions}
            subject={name}
            done={say(w.peopleWords.sessionsEnded, { name })}
            send={() => shown(send<People>(`${path}/sign-out`, {}))}
          />
        </Row>
        {!isOneself && (
          <>
            <Row what={disabled ? w.peopleWords.enableHint : w.peopleWords.disableHint}>
              <ActButton
                acts={acts}
                name={disabled ? w.peopleWords.enable : w.peopleWords.disable}
                subject={name}
                done={say(disabled ? w.peopleWords.enabled : w.peopleWords.disabled, { name })}
                send={() => shown(send<People>(`${path}/disabled`, { disabled: !disabled }))}
              />
            </Row>
            <Folded title={w.peopleWords.newPassword}>
              <AskForm
                act={w.frame.save}
                done={() => say(w.peopleWords.newDone, { name })}
                send={(fields) => send(`${path}/password`, fields)}
              >
                <NewPasswordField label={say(w.peopleWords.newFor, { name })} hint={w.peopleWords.newHint} />
              </AskForm>
            </Folded>
            <Folded title={w.peopleWords.remove}>
              <p class="sm">{w.peopleWords.removeWhat}</p>
              <ActButton
                acts={acts}
                name={say(w.peopleWords.removeDo, { name })}
                subject={name}
                done=""
                send={() => shown(remove<People>(path), say(w.peopleWords.removed, { name }))}
              />
            </Folded>
          </>
        )}
      </ul>
      <ActAnswer acts={acts} />
    </div>
  );
}
