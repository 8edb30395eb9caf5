import { type House, type Kit, lineOf } from "./drum-house.ts";
import { story } from "./drum-story.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

type Node = "press" | "drums";
interface Pack {
  readonly node: string;
  readonly records: readonly Record<string, unknown>[];
}

/** How nodes keep packs while nobody hears them. */
export interface Keeping {
  /** Packs of this second are kept; they are sent with the node's first pack after it. */
  readonly keeps: (atS: number, node: Node) => boolean;
  /** What was kept is sent at this second all the same, and nothing more of the node is heard for good. */
  readonly lastWords?: Readonly<Partial<Record<Node, number>>>;
  /** In which order what was kept is sent; as it was made if not said. */
  readonly order?: (kept: readonly Pack[]) => readonly Pack[];
  /** By how much the node's own dates are off, s; null: it has no clock, and counts from its start. */
  readonly dates?: (atS: number, node: Node) => number | null;
  /** The gateway is started anew once so many kept packs were sent. */
  readonly restartsAfter?: number;
}

/** A house whose nodes keep packs: told as `story` tells it. */
export function lateStory(kit: Kit, house: House, keeping: Keeping) {
  const bench = createLineBench(lineOf(kit));
  const kept = new Map<string, Pack[]>();
  const seqs = new Map<string, number>();
  let sent = 0;

  function labelled({ node, records }: Pack, atS: number): Pack {
    const seq = seqs.get(node) ?? 0;
    seqs.set(node, seq + 1);
    const off = keeping.dates?.(atS, node as Node) ?? null;
    const [first = {}, ...rest] = records;
    // RFC 8428 §4.5.3: times from 2^28 on are dates.
    const labels = off === null ? { boot: 3, seq, up: atS } : { bt: beginMs / 1000 + atS + off };
    return { node, records: [{ ...labels, ...first }, ...rest] };
  }

  function flush(node: string, atS: number): number {
    const own = kept.get(node) ?? [];
    kept.set(node, []);
    let at = atS;
    for (const pack of keeping.order?.(own) ?? own) {
      at += 0.01;
      bench.node(pack.node, pack.records, at);
      sent += 1;
      if (sent === keeping.restartsAfter) bench.restart(at);
    }
    return at;
  }

  const late = {
    ...bench,
    node(node: string, records: readonly Record<string, unknown>[], atS: number): void {
      const pack = labelled({ node, records }, atS);
      const lastS = keeping.lastWords?.[node as Node];
      const isOver = lastS !== undefined && atS > lastS;
      if (!isOver && keeping.keeps(atS, node as Node)) {
        kept.set(node, [...(kept.get(node) ?? []), pack]);
        if (atS === lastS) flush(node, atS);
        else bench.tick(atS);
        return;
      }
      if (isOver) {
        bench.tick(atS);
        return;
      }
      bench.node(node, pack.records, flush(node, atS) + 0.01);
    },
  };
  return story(kit, house, late);
}
