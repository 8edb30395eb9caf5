import type { NodeView } from "../../http/index.ts";
import { compileLine, type Line, nodeOf, type Slot } from "../../line/index.ts";
import { type Unassigned, unassignedCell } from "../../measurements/index.ts";
import { type NodeNow, nodeCell } from "../../readings/index.ts";
import { iso, type Looking, seriesView } from "./quantity-view.ts";

const byName = ([one]: readonly [string, unknown], [other]: readonly [string, unknown]) =>
  one < other ? -1 : 1;

type UnassignedView = NodeView["unassigned"][number];

function unassignedView(
  looking: Looking,
  [channel, { value, unit, tMs }]: readonly [string, Unassigned],
): UnassignedView {
  return { channel, value, unit, at: iso(looking, tMs) };
}

function unassignedOf(looking: Looking): Map<string, UnassignedView[]> {
  const byNode = new Map<string, UnassignedView[]>();
  for (const one of [...looking.board.entries(unassignedCell)].sort(byName)) {
    const node = nodeOf(one[0]);
    const found = byNode.get(node) ?? [];
    byNode.set(node, found);
    found.push(unassignedView(looking, one));
  }
  return byNode;
}

/** What is shown of a channel: of a drum's level the litres, of all else the value in its own unit. */
function channelView(looking: Looking, { channel, subject, series }: Slot): NodeView["channels"] {
  const shown = series.find(({ quantity }) => quantity === "volume") ?? series[0];
  if (!shown) return [];
  const now = seriesView(looking, shown.name, shown.quantity);
  return [{ channel, of: { kind: subject.kind, id: subject.id }, quantity: shown.quantity, now }];
}

const channelsOf = (looking: Looking, line: Line, id: string): NodeView["channels"] =>
  (compileLine(line).slotsOfNode.get(id) ?? []).flatMap((slot) => channelView(looking, slot));

function viewOf(
  looking: Looking,
  id: string,
  node: NodeNow,
  has: Pick<NodeView, "channels" | "unassigned">,
): NodeView {
  return {
    id,
    online: node.online,
    firmware: node.firmware,
    requests: [...(node.requests ?? [])],
    periodS: node.periodMs === null ? null : node.periodMs / 1000,
    lastSeen: iso(looking, node.lastSeenMs),
    startedAt: iso(looking, node.startedAtMs),
    packs: node.packs,
    gaps: node.gaps,
    repeats: node.repeats,
    rejected: node.rejected,
    ...has,
  };
}

/** Every node that was heard, by name: the board has them in the order in which they came, until it is read again. */
export function nodeViews(looking: Looking, line: Line): NodeView[] {
  const unassigned = unassignedOf(looking);
  return [...looking.board.entries(nodeCell)].sort(byName).map(([id, node]) =>
    viewOf(looking, id, node, {
      channels: channelsOf(looking, line, id),
      unassigned: unassigned.get(id) ?? [],
    }),
  );
}

/** One node; null while it was not heard. */
export function nodeView(looking: Looking, line: Line, id: string): NodeView | null {
  const node = looking.board.get(nodeCell, id);
  if (!node) return null;
  // Of its own only: putting those of all nodes in order at each pack of each node kept the path from its work.
  const prefix = `${id}/`;
  const own: [string, Unassigned][] = [];
  for (const one of looking.board.entries(unassignedCell)) if (one[0].startsWith(prefix)) own.push(one);
  return viewOf(looking, id, node, {
    channels: channelsOf(looking, line, id),
    unassigned: own.sort(byName).map((one) => unassignedView(looking, one)),
  });
}
