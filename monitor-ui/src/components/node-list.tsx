import type { LineDrawing, NodeView, RejectionView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { recentRejections } from "../data/acts.ts";
import { drawing, loadDrawing } from "../data/drawing.ts";
import { mayAct } from "../data/me.ts";
import { type DayRecords, nodeDays } from "../data/node-days.ts";
import { gatewayNowMs, lost, nowMs } from "../data/state.ts";
import { roleWords } from "../draw/words.ts";
import { channelWords } from "../format/channel-words.ts";
import { codeWords } from "../format/code-words.ts";
import { asSet, clock, duration } from "../format/numbers.ts";
import { rawWords } from "../format/raw-words.ts";
import { count, say, w } from "../words/words.ts";
import { CouldNotLoad } from "./could-not-load.tsx";
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

/** Where a place is: "Supply, conductivity"; of the floor its role alone. */
function placeWords(
  { points, stages, drums }: LineDrawing,
  { of, role }: LineDrawing["places"][number],
): string {
  const title = [...points, ...stages, ...drums].find(({ id }) => id === of.id)?.title;
  return title === undefined ? roleWords(role) : say(w.frame.float, { title, role: roleWords(role) });
}

/** What each channel of a node is, by the line file. */
function Channels({ node }: { readonly node: string }) {
  const drawn = drawing.value;
  const own = drawn?.places.filter(({ channel }) => channel?.startsWith(`${node}/`)) ?? [];
  if (!drawn || own.length === 0) return null;
  return (
    <ul class="channels">
      {own.map((place) => (
        <li key={place.place}>
          <code>{place.channel?.slice(node.length + 1)}</code>
          <span>{placeWords(drawn, place)}</span>
          <b class="n">{channelWords(place)}</b>
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
          <Channels node={node.id} />
          {days && <NodeDay node={node} records={days} />}
          {node.unassigned.map((one) => (
            <Unassigned key={one.channel} {...one} />
          ))}
          {node.rejected > 0 && <Refused node={node.id} refused={node.rejected} />}
        </article>
      ))}
    </section>
  );
}
