import type { NodeNow } from "../readings/index.ts";

/** Since when nothing was heard of a node; what the gateway could not hear before its start is nobody's silence. */
export function silentSinceMs(node: NodeNow | undefined, startedMs: number): number | null {
  return node?.lastSeenMs == null ? null : Math.max(node.lastSeenMs, startedMs);
}

/** How long a node may say nothing: so many of its periods, and at least `leastMs`. */
export const allowedMs = (node: NodeNow | undefined, periods: number, leastMs: number): number =>
  Math.max(leastMs, periods * (node?.periodMs ?? 0));
