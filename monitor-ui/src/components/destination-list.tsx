import type { DestinationView } from "@drumlin/gateway/contract";
import { mayAct, me } from "../data/me.ts";
import { removeDevice, testDestination } from "../data/messages.ts";
import { gatewayNowMs } from "../data/state.ts";
import { clock } from "../format/numbers.ts";
import { language, say, w } from "../words/words.ts";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** Where one destination leads, what it is told, and how the last delivery went. */
function Destination({ of, again }: { readonly of: DestinationView; readonly again: () => void }) {
  const acts = useActs();
  const now = gatewayNowMs.value;
  const isOwn = me.value?.signedIn?.name === of.person;
  return (
    <li class="destination">
      <div>
        <b>{of.title}</b> · {say(w.told.to, { way: w.told.ways[of.way], to: of.to })}
        <p class="meta">
          {of.person ? `${of.person} · ` : ""}
          {w.told.takes[of.takes]}
          {of.language === language.value ? "" : ` · ${w.told.inLanguage[of.language]}`}
          {of.turn === "second" ? ` · ${w.told.second}` : ""}
          {of.quiet ? ` · ${say(w.told.quiet, of.quiet)}` : ""}
        </p>
        <p class={of.error ? "problem" : "meta"}>
          {of.error
            ? say(of.lastFailedAt ? w.told.notDeliveredAt : w.told.notDelivered, {
                time: of.lastFailedAt ? clock(of.lastFailedAt, now) : "",
                error: of.error,
              })
            : of.lastSentAt
              ? say(w.told.lastDelivered, { time: clock(of.lastSentAt, now) })
              : w.told.nothingSent}
          {of.waiting > 0 ? ` · ${say(w.told.inQueue, { count: of.waiting })}` : ""}
        </p>
      </div>
      <div class="acts" ref={acts.host}>
        {mayAct.value && (
          <ActButton
            acts={acts}
            name={w.told.sendTest}
            subject={of.title}
            done={w.told.delivered}
            send={async () => {
              const sent = await testDestination(of.id);
              again();
              return sent;
            }}
          />
        )}
        {of.way === "device" && (mayAct.value || isOwn) && (
          <ActButton
            acts={acts}
            name={w.told.remove}
            subject={of.title}
            done={w.told.removed}
            send={async () => {
              const sent = await removeDevice(of.id);
              if (sent.taken) again();
              return sent;
            }}
          />
        )}
        <ActAnswer acts={acts} />
      </div>
    </li>
  );
}

/** Everybody who is told. */
export function DestinationList({
  destinations,
  again,
}: {
  readonly destinations: readonly DestinationView[];
  readonly again: () => void;
}) {
  if (destinations.length === 0)
    return (
      <p>
        {w.told.nobody} <code>notify</code>.
      </p>
    );
  return (
    <ul class="plain">
      {destinations.map((one) => (
        <Destination key={one.id} of={one} again={again} />
      ))}
    </ul>
  );
}
