import type { Token } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { remove, send } from "../data/send.ts";
import { roleWords } from "../format/words.ts";
import { say, w } from "../words/words.ts";
import { AskForm, RoleField } from "./ask-form.tsx";
import { Card } from "./card.tsx";
import { Command } from "./command.tsx";
import { CouldNotLoad } from "./could-not-load.tsx";
import { Field } from "./field.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

interface TokenListProps {
  /** null: they could not be had. */
  readonly tokens: readonly Token[] | null;
  readonly changed: (tokens: readonly Token[]) => void;
  readonly again: () => void;
}

/** Programs and their tokens: made, shown once, revoked. */
export function TokenList({ tokens, changed, again }: TokenListProps) {
  const acts = useActs();
  const [secret, setSecret] = useState<{ readonly name: string; readonly token: string } | null>(null);
  return (
    <Card title={w.peopleWords.programs}>
      {tokens === null && <CouldNotLoad what={w.peopleWords.thePrograms} again={again} />}
      {tokens?.length === 0 && <p class="soft">{w.peopleWords.noProgram}</p>}
      <div ref={acts.host}>
        <ul class="people">
          {tokens?.map(({ name, role }) => (
            <li class="person" key={name}>
              <p>
                <b>{name}</b> <span class="soft">{roleWords(role)}</span>
              </p>
              <div class="acts">
                <ActButton
                  acts={acts}
                  name={w.peopleWords.revoke}
                  subject={name}
                  done={say(w.peopleWords.revoked, { name })}
                  send={async () => {
                    const sent = await remove<{ items: readonly Token[] }>(
                      `/api/tokens/${encodeURIComponent(name)}`,
                    );
                    if (sent.taken) changed(sent.told.items);
                    return sent;
                  }}
                />
              </div>
            </li>
          ))}
        </ul>
        <ActAnswer acts={acts} />
      </div>
      <AskForm
        act={w.peopleWords.makeToken}
        done={() => w.peopleWords.made}
        send={async (fields) => {
          const sent = await send<{ name: string; token: string }>("/api/tokens", fields);
          if (sent.taken) {
            setSecret(sent.told);
            again();
          }
          return sent;
        }}
      >
        <Field label={w.peopleWords.program} hint={w.peopleWords.programHint}>
          <input name="name" autocomplete="off" required maxLength={40} />
        </Field>
        <RoleField />
      </AskForm>
      {secret && (
        <div class="secret" role="status">
          <p>{say(w.peopleWords.tokenShown, { name: secret.name })}</p>
          <Command text={secret.token} />
        </div>
      )}
    </Card>
  );
}
