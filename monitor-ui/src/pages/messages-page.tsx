import type { MessageView, NotificationsView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { DestinationList } from "../components/destination-list.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { PolicyForm } from "../components/policy-form.tsx";
import { ThisDevice } from "../components/this-device.tsx";
import { messages, notifications } from "../data/messages.ts";
import { gatewayNowMs } from "../data/state.ts";
import { clock } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";

function MessageLog({ items }: { readonly items: readonly MessageView[] }) {
  if (items.length === 0) return <p>{w.told.nothingTold}</p>;
  return (
    <ol class="log told">
      {items.map(({ id, madeAt, title, destination, state, tries, error }) => (
        <li key={id}>
          <time dateTime={madeAt}>{clock(madeAt, gatewayNowMs.value)}</time>
          <span>
            <b>{title}</b> · {destination} · {w.told.states[state]}
            {tries > 1 ? `, ${say(w.told.tries, { count: tries })}` : ""}
            {error ? ` · ${error}` : ""}
          </span>
        </li>
      ))}
    </ol>
  );
}

/** The page Messages: who is told, by which way, when, and what was told. */
export function MessagesPage() {
  const [view, show] = useState<NotificationsView | null>(null);
  const [told, tell] = useState<readonly MessageView[]>([]);
  const load = async () => {
    const [now, items] = await Promise.all([notifications(), messages()]);
    if (now) show(now);
    if (items) tell(items);
  };
  useEffect(() => {
    void load();
  }, []);
  return (
    <PageFrame title={w.frame.messages}>
      {view === null ? (
        <p class="card">{w.frame.loading}</p>
      ) : (
        <>
          <Card title={w.told.whoIsTold}>
            <DestinationList destinations={view.destinations} again={() => void load()} />
            <ThisDevice pushKey={view.pushKey} again={() => void load()} />
          </Card>
          <Card title={w.told.when}>
            <PolicyForm policy={view.policy} />
          </Card>
          <Card title={w.told.ifSilent}>
            <p>
              {view.life.asked
                ? view.life.error
                  ? say(w.told.lifeFailed, { error: view.life.error })
                  : view.life.lastAt
                    ? say(w.told.lifeLast, { time: clock(view.life.lastAt, gatewayNowMs.value) })
                    : w.told.lifeNone
                : w.told.lifeNobody}
            </p>
          </Card>
          <Card title={w.told.whatWasTold}>
            <MessageLog items={told} />
          </Card>
        </>
      )}
    </PageFrame>
  );
}
