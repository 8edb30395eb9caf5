import type { Token } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { remove, send } from "../data/send.ts";
import { Card } from "./card.tsx";
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
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const body = Object.fromEntries(new FormData(form)) as Record<string, string>;
    void acts.run("Make", "Made.", async () => {
      const sent = await send<{ name: string; token: string }>("/api/tokens", body);
      if (sent.taken) {
        setSecret(sent.told);
        form.reset();
        again();
      }
      return sent;
    });
  };
  return (
    <Card title="Programs">
      {tokens === null && <CouldNotLoad what="the programs" again={again} />}
      {tokens?.length === 0 && <p class="soft">No program has a token.</p>}
      <div ref={acts.host}>
        <ul class="people">
          {tokens?.map(({ name, role }) => (
            <li class="person" key={name}>
              <p>
                <b>{name}</b> <span class="soft">{role}</span>
              </p>
              <div class="acts">
                <ActButton
                  acts={acts}
                  name="Revoke"
                  subject={name}
                  done={`${name} is let in no more.`}
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
        <form class="form" onSubmit={submit}>
          <Field label="Program" hint="What it is called, such as wall-tablet.">
            <input name="name" autocomplete="off" required maxLength={40} />
          </Field>
          <Field label="Role">
            <select name="role">
              <option value="viewer">viewer</option>
              <option value="operator">operator</option>
            </select>
          </Field>
          <button type="submit" class="btn" aria-disabled={acts.busy !== ""}>
            Make a token
          </button>
        </form>
        <ActAnswer acts={acts} />
      </div>
      {secret && (
        <p class="secret" role="status">
          The token of {secret.name}, shown this once: <code>{secret.token}</code>{" "}
          <button type="button" class="btn" onClick={() => void navigator.clipboard?.writeText(secret.token)}>
            Copy
          </button>
        </p>
      )}
    </Card>
  );
}
