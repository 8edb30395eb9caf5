import type { NodeView, RejectionView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { recentRejections } from "../data/acts.ts";
import { mayAct } from "../data/me.ts";
import { gatewayNowMs, lost, nowMs } from "../data/state.ts";
import { clock, duration, figure } from "../format/numbers.ts";

function presenceWords(node: NodeView): string {
  const { lastSeen } = node;
  if (lastSeen === null) return "nothing heard yet";
  const since = clock(lastSeen, gatewayNowMs.value);
  if (lost.value) return `last message ${since}, as far as this page knows`;
  if (node.online === false) return `silent since ${since}`;
  return `last message ${duration(gatewayNowMs.value - Date.parse(lastSeen))} ago`;
}

function Refused({ node, count }: { readonly node: string; readonly count: number }) {
  const [shown, show] = useState<readonly RejectionView[] | null | undefined>(undefined);
  const own = shown?.filter((rejection) => rejection.node === node) ?? [];
  return (
    <details onToggle={(event) => event.currentTarget.open && void recentRejections().then(show)}>
      <summary>{count} refused: what and why</summary>
      {shown === null && <p class="problem">Couldn't load what was refused.</p>}
      <ul class="refused">
        {own.map(({ code, title, todo, count: times, examples }) => (
          <li key={code}>
            <b>{title}</b> ({times}×): {todo} <code>{examples[0]?.example.slice(0, 80)}</code>
          </li>
        ))}
      </ul>
    </details>
  );
}

/** A channel without a place: its raw value, live, and the way to the drawing. */
function Unassigned({ channel, value, unit }: NodeView["unassigned"][number]) {
  return (
    <div class="unassigned">
      {channel}: <b class="n">{figure(value)}</b> {unit ?? ""} · no place yet
      {mayAct.value && (
        <>
          {" · "}
          <a href="#draw/places">Place it</a>
        </>
      )}
    </div>
  );
}

/** The nodes: whether they are heard, what was lost, repeated or refused, and channels that belong to nothing yet. */
export function NodeList({ nodes }: { readonly nodes: readonly NodeView[] }) {
  return (
    <section class="nodes" aria-label="Nodes">
      {nodes.map((node) => (
        <article class="node" key={node.id}>
          <h2>{node.id}</h2>
          <p class="sm soft">
            {presenceWords(node)} · {node.packs} messages{node.gaps > 0 ? ` · ${node.gaps} missing` : ""}
            {node.repeats > 0 ? ` · ${node.repeats} repeated` : ""}
            {node.firmware === null ? "" : ` · firmware ${node.firmware}`}
            {node.startedAt === null ? "" : ` · running since ${clock(node.startedAt, nowMs.value)}`}
          </p>
          {node.unassigned.map((one) => (
            <Unassigned key={one.channel} {...one} />
          ))}
          {node.rejected > 0 && <Refused node={node.id} count={node.rejected} />}
        </article>
      ))}
    </section>
  );
}
