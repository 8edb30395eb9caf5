import type { Board } from "../path/index.ts";
import { nodeCell } from "../readings/index.ts";

const spanMs = 15 * 60_000;

interface Sample {
  readonly atMs: number;
  readonly sent: number;
  readonly refused: number;
}

/**
 * The share of what each node sent in the last 15 min that was refused, percent of its packs; null
 * where it sent nothing. Told of nodes that had a refusal since the start, or of which it was told before (`isTold`).
 */
export function createRefusedShares(board: Pick<Board, "entries">, isTold: (node: string) => boolean) {
  const samples = new Map<string, Sample[]>();
  return (
    nowMs: number,
    nodes: Iterable<string>,
  ): readonly (readonly [node: string, percent: number | null])[] => {
    const known = new Map(board.entries(nodeCell));
    const shares: [string, number | null][] = [];
    for (const node of nodes) {
      const now = known.get(node);
      if (!now) continue;
      const of = (samples.get(node) ?? []).filter(({ atMs }) => nowMs - atMs <= spanMs);
      of.push({ atMs: nowMs, sent: now.sent?.entries ?? 0, refused: now.refused?.entries ?? 0 });
      samples.set(node, of);
      const [first] = of as [Sample];
      const last = of.at(-1) as Sample;
      const refused = last.refused - first.refused;
      if (refused === 0 && !isTold(node)) continue;
      const sent = last.sent - first.sent;
      shares.push([node, sent === 0 ? null : Math.round((100 * refused) / sent)]);
    }
    for (const node of samples.keys()) if (!known.has(node)) samples.delete(node);
    return shares;
  };
}
