import { defineCell } from "../path/index.ts";
import { nowWithinMs } from "./node-clock-ahead.ts";
import { afterPackStep, type NodeSpacing } from "./node-spacing.ts";
import type { NodePresence, PackTaken } from "./reading.ts";
import type { StartsUnheard } from "./starts-unheard.ts";

/** What is known of a node now. */
export interface NodeNow {
  /** Null: it never said, and never sent a pack. */
  readonly online: boolean | null;
  readonly boot: number | null;
  readonly firmware: string | null;
  readonly protocol: number | null;
  /** The period that it announced, ms. */
  readonly periodMs: number | null;
  readonly channels: NodePresence["channels"];
  /** What it may be asked. Absent: nothing, or an older row. */
  readonly requests?: NodePresence["requests"] | undefined;
  /** When it was last heard, gateway time. */
  readonly lastSeenMs: number | null;
  /**
   * When it was last heard of now, gateway time: a pack dated over 5 min away is not followed, however often it comes.
   * Absent in older rows.
   */
  readonly followedMs?: number;
  /** Since when all that comes of it was made long before, gateway time; null: it tells of now. Absent in older rows. */
  readonly pastSinceMs?: number | null;
  /** When the last of that came, gateway time. Absent in older rows. */
  readonly pastAtMs?: number | null;
  /** When it started, by its own count, brought onto the gateway's clock. */
  readonly startedAtMs: number | null;
  readonly packs: number;
  readonly gaps: number;
  readonly repeats: number;
  readonly rejected: number;
  /** What came of it and of that what had something to be refused, by entries of the journal: absent in older rows. */
  readonly sent?: Counted;
  readonly refused?: Counted;
  /** By how much its own dates are ahead, as its last packs say; null: nobody can tell. */
  readonly clockAheadMs?: number | null;
  /** How far apart its packs come, where that is not as it announced. Absent: as announced, or not known. */
  readonly spacing?: NodeSpacing | undefined;
  /** When its last pack of now came, gateway time; null: what came since was made long before. Absent in older rows. */
  readonly lastPackMs?: number | null;
  /** Starts of the gateway since it was last heard of now. Absent: none. */
  readonly starts?: StartsUnheard | undefined;
}

/** Entries that were counted, each once: the newest of them. */
interface Counted {
  readonly entries: number;
  readonly seq: number;
}

const counted = (before: Counted | undefined, seq: number): Counted =>
  before && seq <= before.seq ? before : { entries: (before?.entries ?? 0) + 1, seq };

/** What is known of each node, by its name. */
export const nodeCell = defineCell<NodeNow>("node");

/** What waited in a node comes within this time, and within so many of its periods it is known when it was made. */
const caughtUpMs = 5 * 60_000;
const caughtUpPeriods = 6;
/** A pause of so long, and of so many periods, is no time in which it comes: it is missed then as a silent one is. */
const pauseMs = 60_000;
const pausePeriods = 12;

const unheard: NodeNow = {
  online: null,
  boot: null,
  firmware: null,
  protocol: null,
  periodMs: null,
  channels: [],
  lastSeenMs: null,
  startedAtMs: null,
  packs: 0,
  gaps: 0,
  repeats: 0,
  rejected: 0,
};

/** Since when what it had kept comes, at `atMs`: as if there had been no long pause. Null: it tells of now. */
function pastSinceAt({ pastSinceMs, pastAtMs, periodMs }: NodeNow, atMs: number): number | null {
  if (pastSinceMs == null) return null;
  const goneMs = atMs - (pastAtMs ?? atMs);
  return goneMs > Math.max(pauseMs, pausePeriods * (periodMs ?? 0)) ? pastSinceMs + goneMs : pastSinceMs;
}

/** While what it kept comes in hour by hour, nothing is heard of what runs now. */
const isCaughtUp = ({ periodMs }: NodeNow, sinceMs: number | null, atMs: number): boolean =>
  sinceMs === null || atMs - sinceMs <= Math.max(caughtUpMs, caughtUpPeriods * (periodMs ?? 0));

/** How far apart its packs come: what comes again or was kept tells nothing of that. A node may start anew for each. */
function spacingAfter(
  { spacing, lastPackMs, periodMs }: NodeNow,
  pack: PackTaken,
): Pick<NodeNow, "spacing" | "lastPackMs"> {
  if (pack.repeat) return { spacing, lastPackMs: lastPackMs ?? null };
  if (pack.isOfPast) return { spacing, lastPackMs: null };
  const atMs = pack.receivedAtMs;
  if (lastPackMs == null) return { spacing, lastPackMs: atMs };
  return { spacing: afterPackStep(spacing, atMs - lastPackMs, periodMs), lastPackMs: atMs };
}

/** The node after one of its packs. */
export function afterPack(node: NodeNow = unheard, pack: PackTaken): NodeNow {
  const atMs = pack.receivedAtMs;
  const sinceMs = pastSinceAt(node, atMs);
  // One that comes again says nothing of when the others were made.
  const pastSinceMs = pack.repeat ? sinceMs : pack.isOfPast ? (sinceMs ?? atMs) : null;
  const isOfNow = isCaughtUp(node, pastSinceMs, atMs) && Math.abs(pack.datedAheadMs ?? 0) <= nowWithinMs;
  return {
    ...node,
    // A pack that is no repeat comes from a node that lives, whatever a late will said.
    online: pack.repeat ? (node.online ?? true) : true,
    boot: pack.boot ?? node.boot,
    lastSeenMs: atMs,
    pastSinceMs,
    pastAtMs: pastSinceMs === null ? null : atMs,
    followedMs: isOfNow ? atMs : (node.followedMs ?? node.lastSeenMs ?? atMs),
    ...(isOfNow && node.starts ? { starts: undefined } : {}),
    startedAtMs: pack.offsetMs ?? node.startedAtMs,
    packs: node.packs + 1,
    gaps: node.gaps + pack.gap,
    repeats: node.repeats + (pack.repeat ? 1 : 0),
    sent: counted(node.sent, pack.seq),
    clockAheadMs: pack.repeat ? (node.clockAheadMs ?? null) : pack.clockAheadMs,
    ...spacingAfter(node, pack),
  };
}

/** The node after its presence, or its will. */
export function afterPresence(node: NodeNow = unheard, presence: NodePresence): NodeNow {
  // A link that breaks time and again lets it announce itself, and its past comes on.
  const isHeard = presence.online && isCaughtUp(node, pastSinceAt(node, presence.atMs), presence.atMs);
  return {
    ...node,
    online: presence.online,
    boot: presence.boot ?? node.boot,
    firmware: presence.firmware ?? node.firmware,
    protocol: presence.protocol ?? node.protocol,
    periodMs: presence.periodMs ?? node.periodMs,
    channels: presence.online ? presence.channels : node.channels,
    ...(presence.online ? { requests: presence.requests } : {}),
    lastSeenMs: presence.online ? presence.atMs : node.lastSeenMs,
    ...(isHeard ? { followedMs: presence.atMs, starts: undefined } : {}),
  };
}

/** The node after something of the entry `seq` was refused. */
export function afterRejection(node: NodeNow = unheard, seq: number): NodeNow {
  return {
    ...node,
    rejected: node.rejected + 1,
    sent: counted(node.sent, seq),
    refused: counted(node.refused, seq),
  };
}

/** A node of another protocol, which sends no packs, after a value of it. */
export function afterValue(node: NodeNow = unheard, atMs: number): NodeNow {
  if (node.lastSeenMs === atMs) return node;
  return { ...node, lastSeenMs: atMs, followedMs: atMs, starts: undefined };
}
