import type { BoardView } from "../path/index.ts";
import { type NodeNow, nodeCell } from "../readings/index.ts";

/** Since when nothing of now was heard of a node; what the gateway could not hear before its start is nobody's silence. */
export function silentSinceMs(node: NodeNow | undefined, startedMs: number): number | null {
  const heardMs = node?.followedMs ?? node?.lastSeenMs ?? null;
  return heardMs === null ? null : Math.max(heardMs, startedMs);
}

/** How long a node may say nothing: so many of its periods, and at least `leastMs`. */
export const allowedMs = (node: NodeNow | undefined, periods: number, leastMs: number): number =>
  Math.max(leastMs, periods * (node?.periodMs ?? 0));

/** A node that is not heard of: since when, and from when on it is missed. */
interface Silence {
  readonly sinceMs: number;
  readonly missedAtMs: number;
}

/** Nodes that stop within this time of one another have one cause. */
const togetherMs = 30_000;
/** A node is missed after so many of its periods, at least so long: before `node-silent` says so. */
const missedPeriods = 3;
const leastMissedMs = 15_000;

/** What is known of the silences of several nodes: those that were never heard are left out. */
export function silencesOf(
  nodes: readonly { readonly id: string }[],
  board: BoardView,
  startedMs: number,
): readonly Silence[] {
  const silences: Silence[] = [];
  for (const { id } of nodes) {
    const node = board.get(nodeCell, id);
    const sinceMs = silentSinceMs(node, startedMs);
    if (sinceMs !== null)
      silences.push({ sinceMs, missedAtMs: sinceMs + allowedMs(node, missedPeriods, leastMissedMs) });
  }
  return silences;
}

/** How many are missed now, whether two of them fell silent together, and when the next one will be missed, if any. */
export function missedOf(
  silences: readonly Silence[],
  nowMs: number,
): { readonly missed: number; readonly isTogether: boolean; readonly nextMs: number | null } {
  const sinceMs: number[] = [];
  let nextMs: number | null = null;
  for (const silence of silences)
    if (silence.missedAtMs <= nowMs) sinceMs.push(silence.sinceMs);
    else if (nextMs === null || silence.missedAtMs < nextMs) nextMs = silence.missedAtMs;
  if (sinceMs.length > 1) sinceMs.sort((a, b) => a - b);
  const isTogether = sinceMs.some(
    (ms, index) => index > 0 && ms - (sinceMs[index - 1] as number) <= togetherMs,
  );
  return { missed: sinceMs.length, isTogether, nextMs };
}
