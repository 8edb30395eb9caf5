import type { BoardView } from "../path/index.ts";
import { type NodeNow, nodeCell } from "../readings/index.ts";

/** Since when nothing of now was heard of a node; what the gateway could not hear before its start is nobody's silence. */
export function silentSinceMs(node: NodeNow | undefined, startedMs: number): number | null {
  const heardMs = node?.followedMs ?? node?.lastSeenMs ?? null;
  return heardMs === null ? null : Math.max(heardMs, startedMs);
}

/**
 * How long a node may say nothing: so many of its periods as it announced them, `heard` of how far apart its packs come where
 * that is farther, and at least `leastMs`.
 */
export const allowedMs = (
  node: NodeNow | undefined,
  { periods, heard = periods, leastMs }: { periods: number; heard?: number; leastMs: number },
): number => Math.max(leastMs, periods * (node?.periodMs ?? 0), heard * (node?.spacing?.ms ?? 0));

/** Nodes that stop within this time of one another have one cause. */
const togetherMs = 30_000;
/** A node is missed after so many of its periods, at least so long: before `node-silent` says so. */
const missed = { periods: 3, leastMs: 15_000 } as const;

/** What is known of the silences of several nodes. */
interface Silences {
  /** Of how many it is known: those that were never heard are left out. */
  readonly known: number;
  /** How many are missed now. */
  readonly missed: number;
  /** Two of those fell silent together. */
  readonly isTogether: boolean;
  /** When the next one will be missed; null: none will. */
  readonly nextMs: number | null;
}

/** Of a node that announces nothing one pack tells that it lives, not when the next is due. */
export const isPaceUnknown = ({ periodMs, packs }: NodeNow): boolean => periodMs === null && packs === 1;

function areTogether(sinceMs: number[]): boolean {
  if (sinceMs.length > 1) sinceMs.sort((a, b) => a - b);
  return sinceMs.some((ms, index) => index > 0 && ms - (sinceMs[index - 1] as number) <= togetherMs);
}

/** The silences of several nodes: looked at with each pack of any of them, so nothing is made while none is missed. */
export function silencesOf(
  nodes: readonly { readonly id: string }[],
  board: BoardView,
  nowMs: number,
  startedMs: number,
): Silences {
  let known = 0;
  let missing: number[] | null = null;
  let nextMs: number | null = null;
  for (const { id } of nodes) {
    const node = board.get(nodeCell, id);
    const sinceMs = silentSinceMs(node, startedMs);
    if (sinceMs === null || !node || isPaceUnknown(node)) continue;
    known += 1;
    const missedAtMs = sinceMs + allowedMs(node, missed);
    if (missedAtMs <= nowMs) {
      missing ??= [];
      missing.push(sinceMs);
    } else if (nextMs === null || missedAtMs < nextMs) nextMs = missedAtMs;
  }
  return {
    known,
    missed: missing?.length ?? 0,
    isTogether: missing !== null && areTogether(missing),
    nextMs,
  };
}
