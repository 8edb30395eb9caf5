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

const stateWords = { sent: "delivered", waiting: "waiting", dropped: "given up" } as const;

function MessageLog({ items }: { readonly items: readonly MessageView[] }) {
  if (items.length === 0) return <p>Nothing was told yet.</p>;
  return (
    <ol class="log told">
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
