import type { MessageView, NotificationsView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { DestinationList } from "../components/destination-list.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { PolicyForm } from "../components/policy-form.tsx";
import { ActAnswer, ActButton, useActs } from "../components/use-acts.tsx";
import { me } from "../data/me.ts";
import { messages, notifications } from "../data/messages.ts";
import { gatewayNowMs } from "../data/state.ts";
import { takeMessages, whyNoMessages } from "../data/this-device.ts";
import { clock } from "../format/numbers.ts";

const stateWords = { sent: "delivered", waiting: "waiting", dropped: "given up" } as const;

/** Lets this device take messages, also while the page is closed. */
function ThisDevice({ pushKey, again }: { readonly pushKey: string; readonly again: () => void }) {
  const acts = useActs();
  const why = whyNoMessages();
  const name = me.value?.signedIn?.kind === "person" ? me.value.signedIn.name : null;
  if (why !== null || name === null)
    return <p class="meta">{why ?? "Sign in with an account of your own: messages belong to a person."}</p>;
  return (
    <div class="acts" ref={acts.host}>
      <ActButton
        acts={acts}
        name="Send messages to this device"
        subject={name}
        done="This device takes messages. Send a test."
        send={async () => {
          const sent = await takeMessages(pushKey, { title: `${name}'s device`, takes: "tell" });
          again();
          return sent;
        }}
      />
      <ActAnswer acts={acts} />
    </div>
  );
}

function MessageLog({ items }: { readonly items: readonly MessageView[] }) {
  if (items.length === 0) return <p>Nothing was told yet.</p>;
  return (
    <ol class="log">
      {items.map(({ id, madeAt, title, destination, state, tries, error }) => (
        <li key={id}>
          <time dateTime={madeAt}>{clock(madeAt, gatewayNowMs.value)}</time>
          <span>
            <b>{title}</b> · {destination} · {stateWords[state]}
            {tries > 1 ? `, ${tries} tries` : ""}
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
    <PageFrame title="Messages">
      {view === null ? (
        <p class="card">Loading…</p>
      ) : (
        <>
          <Card title="Who is told">
            <DestinationList destinations={view.destinations} again={() => void load()} />
            <ThisDevice pushKey={view.pushKey} again={() => void load()} />
          </Card>
          <Card title="When">
            <PolicyForm policy={view.policy} />
          </Card>
          <Card title="If the gateway itself goes silent">
            <p>
              {view.life.asked
                ? view.life.error
                  ? `The last sign of life failed: ${view.life.error}`
                  : view.life.lastAt
                    ? `Last sign of life ${clock(view.life.lastAt, gatewayNowMs.value)}.`
                    : "No sign of life was given yet."
                : "Nobody outside would notice. Name somebody who does, in the line file under notify: heartbeat."}
            </p>
          </Card>
          <Card title="What was told">
            <MessageLog items={told} />
          </Card>
        </>
      )}
    </PageFrame>
  );
}
