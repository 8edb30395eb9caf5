import type { NodeView } from "../../http/index.ts";
import { nodeOf } from "../../line/index.ts";
import { type Unassigned, unassignedCell } from "../../measurements/index.ts";
import { type NodeNow, nodeCell } from "../../readings/index.ts";
import { iso, type Looking } from "./quantity-view.ts";

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

function viewOf(looking: Looking, id: string, node: NodeNow, unassigned: NodeView["unassigned"]): NodeView {
  return {
    id,
    online: node.online,
    firmware: node.firmware,
    lastSeen: iso(looking, node.lastSeenMs),
    startedAt: iso(looking, node.startedAtMs),
    packs: node.packs,
    gaps: node.gaps,
    repeats: node.repeats,
    rejected: node.rejected,
    unassigned,
  };
}

/** Every node that was heard, by name: the board has them in the order in which they came, until it is read again. */
export function nodeViews(looking: Looking): NodeView[] {
  const unassigned = unassignedOf(looking);
  return [...looking.board.entries(nodeCell)]
    .sort(byName)
    .map(([id, node]) => viewOf(looking, id, node, unassigned.get(id) ?? []));
}

/** One node; null while it was not heard. */
export function nodeView(looking: Looking, id: string): NodeView | null {
  const node = looking.board.get(nodeCell, id);
  if (!node) return null;
  // Of its own only: putting those of all nodes in order at each pack of each node kept the path from its work.
  const prefix = `${id}/`;
  const own: [string, Unassigned][] = [];
  for (const one of looking.board.entries(unassignedCell)) if (one[0].startsWith(prefix)) own.push(one);
  return viewOf(
    looking,
    id,
    node,
    own.sort(byName).map((one) => unassignedView(looking, one)),
  );
}
