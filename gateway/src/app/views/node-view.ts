import type { NodeView } from "../../http/index.ts";
import { nodeOf } from "../../line/index.ts";
import { unassignedCell } from "../../measurements/index.ts";
import { type NodeNow, nodeCell } from "../../readings/index.ts";
import { iso, type Looking } from "./quantity-view.ts";

const byName = ([one]: readonly [string, unknown], [other]: readonly [string, unknown]) =>
  one < other ? -1 : 1;

function unassignedOf(looking: Looking): Map<string, NodeView["unassigned"]> {
  const byNode = new Map<string, NodeView["unassigned"]>();
  for (const [channel, { value, unit, tMs }] of [...looking.board.entries(unassignedCell)].sort(byName)) {
    const node = nodeOf(channel);
    const found = byNode.get(node) ?? [];
    byNode.set(node, found);
    found.push({ channel, value, unit, at: iso(looking, tMs) });
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
  return node ? viewOf(looking, id, node, unassignedOf(looking).get(id) ?? []) : null;
}
