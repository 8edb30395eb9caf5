import type { Person, Token } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { AskForm, NewPasswordField, RoleField } from "../components/ask-form.tsx";
import { Card } from "../components/card.tsx";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { Field } from "../components/field.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { PersonRow } from "../components/person-row.tsx";
import { TokenList } from "../components/token-list.tsx";
import { mayAct, me } from "../data/me.ts";
import { ask, send } from "../data/send.ts";
import { say, w } from "../words/words.ts";

type List<Item> = { readonly items: readonly Item[] };

function AddPerson({ added }: { readonly added: (people: readonly Person[]) => void }) {
  return (
    <AskForm
      act={w.peopleWords.addSomebody}
      done={({ name = "" }) => say(w.peopleWords.maySignIn, { name })}
      send={async (fields) => {
        const sent = await send<List<Person>>("/api/people", fields);
        if (sent.taken) added(sent.told.items);
        return sent;
      }}
    >
      <Field label={w.peopleWords.name}>
        <input name="name" autocomplete="off" required maxLength={40} />
      </Field>
      <RoleField hint={w.peopleWords.roleHint} />
      <NewPasswordField label={w.peopleWords.password} hint={w.peopleWords.passwordHint} />
    </AskForm>
  );
}

function OwnPassword() {
  return (
    <Card title={w.peopleWords.yourPassword}>
      <AskForm
        act={w.peopleWords.changeIt}
        done={() => w.peopleWords.changed}
        send={(fields) => send("/api/me/password", fields)}
      >
        <Field label={w.peopleWords.now}>
          <input name="current" type="password" autocomplete="current-password" required />
        </Field>
        <NewPasswordField label={w.peopleWords.new} hint={w.peopleWords.passwordHint} />
      </AskForm>
    </Card>
  );
}

/** The page People: who may sign in, with which role; the own password; programs and their tokens. */
export function PeoplePage() {
  const [people, setPeople] = useState<readonly Person[] | null | undefined>(undefined);
  const [tokens, setTokens] = useState<readonly Token[] | null | undefined>(undefined);
  const load = () => {
    void ask<List<Person>>("/api/people").then((list) => setPeople(list?.items ?? null));
    void ask<List<Token>>("/api/tokens").then((list) => setTokens(list?.items ?? null));
  };
  const [told, tell] = useState("");
  const isOperator = mayAct.value;
  const changed = (all: readonly Person[], words = "") => {
    setPeople(all);
    tell(words);
  };
  useEffect(() => {
    if (isOperator) load();
  }, [isOperator]);
  const own = me.value?.signedIn;
  return (
    <PageFrame title={w.peopleWords.title}>
      {!isOperator && <p class="soft">{w.peopleWords.onlyOperator}</p>}
      {isOperator && (
        <Card title={w.peopleWords.whoMay}>
          {people === null && <CouldNotLoad what={w.peopleWords.thePeople} again={load} />}
          {people?.length === 0 && <p class="soft">{w.peopleWords.demo}</p>}
          <ul class="people">
            {people?.map((person) => (
              <PersonRow
                key={person.name}
                person={person}
                isOneself={person.name === own?.name}
                changed={changed}
              />
            ))}
          </ul>
          <p class="answer" role="status">
            {told}
          </p>
          <AddPerson added={(all) => changed(all)} />
        </Card>
      )}
      {own?.kind === "person" && !me.value?.given && <OwnPassword />}
      {isOperator && tokens !== undefined && <TokenList tokens={tokens} changed={setTokens} again={load} />}
    </PageFrame>
  );
}
