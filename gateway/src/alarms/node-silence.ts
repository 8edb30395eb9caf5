import type { BoardView } from "../path/index.ts";
import { type NodeNow, nodeCell } from "../readings/index.ts";

/** After a start of the gateway its nodes have so long to connect again. */
const backMs = 60_000;

/**
 * Since when nothing of now was heard of a node, as if the gateway had heard all the time: what it could not hear while it
 * was away is nobody's silence. `startedMs`: of a node of which nobody knows how long that was.
 */
export function silentSinceMs(node: NodeNow | undefined, startedMs: number): number | null {
  const heardMs = node?.followedMs ?? node?.lastSeenMs ?? null;
  if (heardMs === null) return null;
  return node?.starts ? heardMs + node.starts.awayMs : Math.max(heardMs, startedMs);
}

/** From when a node that says nothing is missed, gateway time: after `forMs`, and not before it could connect again in `withinMs`. */
export function missedAtMs(node: NodeNow, sinceMs: number, forMs: number, withinMs = backMs): number {
  return Math.max(sinceMs + forMs, node.starts ? node.starts.lastMs + withinMs : 0);
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
/** What is missed by then is told before its nodes are, as their cause. */
const missedBackMs = backMs - 35_000;

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

/** From where silences are looked at. */
interface SilencesLook {
  readonly board: BoardView;
  readonly nowMs: number;
  readonly startedMs: number;
  /** They were told, and stay so over a start of the gateway. */
  readonly isTold?: boolean;
}

/** The silences of several nodes: looked at with each pack of any of them, so little is made while none is missed. */
export function silencesOf(
  nodes: readonly { readonly id: string }[],
  { board, nowMs, startedMs, isTold = false }: SilencesLook,
): Silences {
  let known = 0;
  let missing: number[] | null = null;
  let nextMs: number | null = null;
  for (const { id } of nodes) {
    const node = board.get(nodeCell, id);
    const sinceMs = silentSinceMs(node, startedMs);
    if (sinceMs === null || !node || isPaceUnknown(node)) continue;
    known += 1;
    const allowed = allowedMs(node, missed);
    const dueMs = isTold ? sinceMs + allowed : missedAtMs(node, sinceMs, allowed, missedBackMs);
    if (dueMs <= nowMs) {
      missing ??= [];
      missing.push(sinceMs);
    } else if (nextMs === null || dueMs < nextMs) nextMs = dueMs;
  }
  return {
    known,
    missed: missing?.length ?? 0,
    isTogether: missing !== null && areTogether(missing),
    nextMs,
  };
}
