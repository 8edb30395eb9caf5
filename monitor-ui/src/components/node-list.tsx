import type { LineDrawing, NodeView, RejectionView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { recentRejections } from "../data/acts.ts";
import { drawing, loadDrawing } from "../data/drawing.ts";
import { mayAct } from "../data/me.ts";
import { type DayRecords, nodeDays } from "../data/node-days.ts";
import { gatewayNowMs, lost, nowMs } from "../data/state.ts";
import { roleWords } from "../draw/words.ts";
import { type ChannelView, channelWords } from "../format/channel-words.ts";
import { codeWords } from "../format/code-words.ts";
import { asSet, clock, duration } from "../format/numbers.ts";
import { rawWords } from "../format/raw-words.ts";
import { count, say, w } from "../words/words.ts";
import { CouldNotLoad } from "./could-not-load.tsx";
import { NodeAsks } from "./node-asks.tsx";
import { NodeDay } from "./node-day.tsx";

function presenceWords(node: NodeView): string {
  const { lastSeen } = node;
  if (lastSeen === null) return w.point.nothingHeard;
  const since = clock(lastSeen, gatewayNowMs.value);
  if (lost.value) return say(w.nodeWords.asFarAsKnown, { time: since });
  if (node.online === false) return say(w.nodeWords.silentSince, { time: since });
  return say(w.nodeWords.lastMessage, {
    duration: duration(gatewayNowMs.value - Date.parse(lastSeen)),
  });
}

function Refused({ node, refused }: { readonly node: string; readonly refused: number }) {
  const [shown, show] = useState<readonly RejectionView[] | null | undefined>(undefined);
  const own = shown?.filter((rejection) => rejection.node === node) ?? [];
  return (
    <details onToggle={(event) => event.currentTarget.open && void recentRejections().then(show)}>
      <summary>{say(w.nodeWords.refused, { count: asSet(refused) })}</summary>
      {shown === null && <p class="problem">{w.nodeWords.refusedNotLoaded}</p>}
      <ul class="refused">
        {own.map(({ code, title, todo, count: times, examples }) => (
          <li key={code}>
            <b>{codeWords(code, title, "title")}</b> ({asSet(times)}×): {codeWords(code, todo, "todo")}{" "}
            <code>{examples[0]?.example.slice(0, 80)}</code>
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
      {channel}: <b class="n">{rawWords(value, unit)}</b> · {w.nodeWords.noPlace}
      {mayAct.value && (
        <>
          {" · "}
          <a href="#draw/places">{w.nodeWords.placeIt}</a>
        </>
      )}
    </div>
  );
}

type Others = typeof w.nodeWords.others;

/** Where a channel is: "Supply, conductivity"; what the drawing has no place for by its own name, the floor by its role alone. */
function whereOf({ points, stages, drums, places }: LineDrawing, { channel, of }: ChannelView): string {
  const place = places.find((one) => one.channel === channel);
  const id = place?.of.id ?? of.id;
  const title = [...points, ...stages, ...drums].find((one) => one.id === id)?.title;
  if (place)
    return title === undefined
      ? roleWords(place.role)
      : say(w.frame.float, { title, role: roleWords(place.role) });
  const others = w.nodeWords.others;
  return Object.hasOwn(others, of.kind)
    ? say(w.frame.float, { title: title ?? id, role: others[of.kind as keyof Others] })
    : (title ?? id);
}

/** What each channel of a node is, by the line file, and what it said last. */
function Channels({ channels }: Pick<NodeView, "channels">) {
  const drawn = drawing.value;
  if (!drawn || channels.length === 0) return null;
  return (
    <ul class="channels">
      {channels.map((one) => (
        <li key={one.channel}>
          <code>{one.channel.slice(one.channel.indexOf("/") + 1)}</code>
          <span>{whereOf(drawn, one)}</span>
          <b class="n">{channelWords(one)}</b>
        </li>
      ))}
    </ul>
  );
}

/** The nodes: whether they are heard, what was lost, repeated or refused, and channels that belong to nothing yet. */
export function NodeList({ nodes }: { readonly nodes: readonly NodeView[] }) {
  const [days, show] = useState<DayRecords | null | undefined>(undefined);
  const load = () => void nodeDays().then(show);
  useEffect(() => void loadDrawing(), []);
  useEffect(load, [Math.floor(nowMs.value / 60_000)]);
  return (
    <section class="nodes" aria-label={w.frame.nodes}>
      {days === null && <CouldNotLoad what={w.nodeWords.theDay} again={load} />}
      {nodes.map((node) => (
        <article class="node" key={node.id}>
          <h2>{node.id}</h2>
          <p class="sm soft">
            {[
              presenceWords(node),
              count(w.nodeWords.messages, node.packs, { count: asSet(node.packs) }),
              node.gaps > 0 ? say(w.nodeWords.missing, { count: asSet(node.gaps) }) : "",
              node.repeats > 0 ? say(w.nodeWords.repeated, { count: asSet(node.repeats) }) : "",
              node.firmware === null ? "" : say(w.nodeWords.firmware, { version: node.firmware }),
              node.startedAt === null
                ? ""
                : say(w.nodeWords.runningSince, { time: clock(node.startedAt, nowMs.value) }),
            ]
              .filter(Boolean)
              .join(" · ")}
          </p>
          <Channels channels={node.channels} />
          {days && <NodeDay node={node} records={days} />}
          {node.unassigned.map((one) => (
            <Unassigned key={one.channel} {...one} />
          ))}
          <NodeAsks node={node} />
          {node.rejected > 0 && <Refused node={node.id} refused={node.rejected} />}
        </article>
      ))}
    </section>
  );
}
