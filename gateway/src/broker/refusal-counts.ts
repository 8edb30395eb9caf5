import type { RejectionCount } from "../logbook/index.ts";

/** Kinds (a code, and a node where it is known) that are told apart. */
const maxKinds = 500;
const maxExamples = 20;
const longestDetail = 200;

/** What was refused at the doors, by code and node. */
export interface RefusalCounts {
  note(code: string, node: string | null, detail: string): void;
  values(): readonly RejectionCount[];
  /** Goes on from what was kept before the start, before anything is noted. */
  begin(kept: readonly RejectionCount[]): void;
  /** Hands out what has changed since it was last kept; what `write` throws is thrown, and all of it is handed out again. */
  keep(write: (changed: readonly RejectionCount[]) => void): void;
}

const keyOf = ({ code, node }: Pick<RejectionCount, "code" | "node">) => `${code} ${node ?? ""}`;

/**
 * Counts refusals. Bounded, and never ends counting: when as many kinds are known as fit, further nodes are counted together
 * under their code, of which there are few.
 */
export function createRefusalCounts(now: () => number): RefusalCounts {
  const counts = new Map<string, RejectionCount>();
  const changed = new Set<string>();
  return {
    note(code, node, detail) {
      const own = keyOf({ code, node });
      const isFull = counts.size >= maxKinds && !counts.has(own);
      const counted = isFull ? null : node;
      const key = keyOf({ code, node: counted });
      const known = counts.get(key);
      const atMs = now();
      const example = { atMs, topic: "", detail: detail.slice(0, longestDetail), example: "" };
      changed.add(key);
      counts.set(key, {
        code,
        node: counted,
        count: (known?.count ?? 0) + 1,
        lastAtMs: atMs,
        examples: [example, ...(known?.examples ?? [])].slice(0, maxExamples),
      });
    },
    values: () => [...counts.values()],
    begin(kept) {
      for (const one of kept) counts.set(keyOf(one), one);
    },
    keep(write) {
      if (changed.size === 0) return;
      write([...changed].flatMap((key) => counts.get(key) ?? []));
      changed.clear();
    },
  };
}
