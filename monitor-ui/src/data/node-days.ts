import { ask } from "./send.ts";

/** What nobody heard, as the records say it. */
export interface GapRecord {
  readonly of: "gateway" | "channel";
  readonly subject: string;
  readonly fromMs: number;
  /** Null: it goes on. */
  readonly toMs: number | null;
}

/** What a node announced of itself. */
interface PresenceRecord {
  readonly node: string;
  readonly atMs: number;
}

interface Page<Item> {
  readonly items: readonly Item[];
  readonly next: string | null;
}

/** Records of a day of all nodes. */
export interface DayRecords {
  readonly gaps: readonly GapRecord[];
  /** When each node was first heard of, epoch ms; without those that were known before the records begin. */
  readonly firstMs: ReadonlyMap<string, number>;
}

/** A stretch in which nothing, or not all, of a node was heard. */
export interface Silence {
  readonly fromMs: number;
  readonly toMs: number;
  /** Its channels that were silent; none where the gateway was off, or the whole node. */
  readonly channels: readonly string[];
}

const dayMs = 86_400_000;
/** More of them are no day of a house in order: the newest are shown. */
const maxRecords = 500;

/** What the records say of the nodes' last day; null when they can't be had. */
export async function nodeDays(): Promise<DayRecords | null> {
  const [gaps, presences] = await Promise.all([
    ask<Page<GapRecord>>(`/api/records/gap?limit=${maxRecords}`),
    ask<Page<PresenceRecord>>(`/api/records/presence?limit=${maxRecords}`),
  ]);
  if (!gaps || !presences) return null;
  const firstMs = new Map<string, number>();
  if (presences.next === null)
    for (const { node, atMs } of presences.items)
      firstMs.set(node, Math.min(atMs, firstMs.get(node) ?? Number.POSITIVE_INFINITY));
  return { gaps: gaps.items, firstMs };
}

/** When a day ago was, and from when on the node is known, epoch ms. */
export function spanOfDay({ firstMs }: DayRecords, node: string, nowMs: number) {
  const fromMs = nowMs - dayMs;
  return { fromMs, knownMs: Math.min(nowMs, Math.max(fromMs, firstMs.get(node) ?? fromMs)) };
}

/** Stretches of the last day in which a node was not heard whole, oldest first; those that touch are one. */
export function silencesOf(
  { gaps }: Pick<DayRecords, "gaps">,
  node: string,
  nowMs: number,
): readonly Silence[] {
  const own = gaps
    .filter(({ of, subject }) => of === "gateway" || subject.startsWith(`${node}/`))
    .map(({ of, subject, fromMs, toMs }) => ({
      fromMs: Math.max(fromMs, nowMs - dayMs),
      toMs: Math.min(toMs ?? nowMs, nowMs),
      channels: of === "gateway" ? [] : [subject.slice(node.length + 1)],
    }))
    .filter(({ fromMs, toMs }) => fromMs < toMs)
    .sort((a, b) => a.fromMs - b.fromMs);
  const joined: Silence[] = [];
  for (const one of own) {
    const last = joined.at(-1);
    if (!last || one.fromMs > last.toMs) joined.push(one);
    else
      joined[joined.length - 1] = {
        fromMs: last.fromMs,
        toMs: Math.max(last.toMs, one.toMs),
        channels: [...new Set([...last.channels, ...one.channels])],
      };
  }
  return joined;
}
